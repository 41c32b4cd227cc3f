#!/usr/bin/env bash
# The one step of the action: judges the plans, and what a change does to them. Ends with the worst of both.
set -uo pipefail
waywarden="$(cd "$(dirname "${BASH_SOURCE[0]}")/../../.." && pwd)/dist/server/waywarden.mjs"

words=(--gate "${INPUT_GATE:-stop}")
if [ -n "${INPUT_NOW:-}" ]; then words+=(--now "$INPUT_NOW"); fi

paths=()
while IFS= read -r path; do
  if [ -n "$path" ]; then paths+=("$path"); fi
done <<< "${INPUT_PATHS:-.}"

formats=(--format github)
if [ -n "${GITHUB_STEP_SUMMARY:-}" ]; then formats+=(--format "markdown-summary=$GITHUB_STEP_SUMMARY"); fi
if [ -n "${INPUT_SARIF:-}" ]; then formats+=(--format "sarif-platform=$INPUT_SARIF"); fi
if [ -n "${INPUT_COMMENT:-}" ] && [ -z "${INPUT_BASE:-}" ]; then formats+=(--format "markdown=$INPUT_COMMENT"); fi
node "$waywarden" check "${words[@]}" "${formats[@]}" -- "${paths[@]}"
status=$?

if [ -n "${INPUT_BASE:-}" ]; then
  formats=(--format text)
  if [ -n "${INPUT_COMMENT:-}" ]; then formats+=(--format "markdown=$INPUT_COMMENT"); fi
  node "$waywarden" compare "${words[@]}" "${formats[@]}" -- "$INPUT_BASE...HEAD"
  compared=$?
  if [ "$compared" -gt "$status" ]; then status=$compared; fi
fi
exit "$status"
