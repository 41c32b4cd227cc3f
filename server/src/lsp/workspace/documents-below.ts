import type { Files } from '../../world/files.ts';
import { filesBelow } from '../completion/files-below.ts';

/** Files of our languages, by their names. */
const isOurs = (name: string): boolean =>
  /\.(?:mission|aircraft|mapping)\.ya?ml$/i.test(name) || name === 'waywarden.settings.yaml';

/** All documents of ours below the folders of a workspace, each once, in the order of the folders. */
export const documentsBelow = async (
  folders: readonly string[],
  files: Files,
  isGivenUp: () => boolean,
): Promise<readonly string[]> => {
  const found = new Set<string>();
  for (const folder of folders) {
    const { locations } = await filesBelow(files, folder, isOurs, isGivenUp);
    for (const location of locations) found.add(location);
  }
  return [...found];
};
