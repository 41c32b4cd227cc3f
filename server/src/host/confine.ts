import type { Files } from '../world/files.ts';

/** What a reference may reach. All of it is decided on the machine, none of it by a file of the repository. */
export interface Reach {
  readonly files: Files;
  /** Location of the document that holds the reference. */
  readonly document: string;
  /** The folder that references may not leave: see `findRoot`. */
  readonly root: string;
  /** Folders granted on this machine; `data:dem/a.hgt` is looked for in each, in this order. */
  readonly dataFolders: readonly string[];
  /** In a workspace that the editor does not trust, no data folder is granted. */
  readonly restricted: boolean;
}

export type Confined =
  /** `within` is the folder that nothing behind the reference may leave, with its links resolved. */
  | { readonly ok: true; readonly location: string; readonly within: string }
  /** `reason` finishes the sentence "<reference> ..." and tells nothing about what lies behind the reference. */
  | { readonly ok: false; readonly reason: string };

const LONGEST = 1024;
const FORBIDDEN_BYTES = /%(?:2e|2f|5c|25|00)/i;

/** Why the text of a reference cannot be followed at all, or undefined. No file is touched. */
const flawOf = (reference: string): string | undefined => {
  if (reference.trim() === '') return 'is empty';
  if (reference.length > LONGEST) return `is longer than ${LONGEST} characters`;
  if (/[\u0000-\u001f\u007f]/.test(reference)) return 'holds a control character';
  if (reference.includes('\\')) return 'holds a backslash; folders are parted by "/"';
  if (reference.startsWith('/')) return 'is an absolute path; references are relative to the plan';
  if (reference.startsWith('~')) return 'starts with "~"; references are relative to the plan';
  if (FORBIDDEN_BYTES.test(reference)) return 'holds a character written as a percent code; write the character itself';
  if (reference.includes(':')) return 'holds a ":"; only references relative to the plan and "data:" ones are read';
  return undefined;
};

/** Locations compare with "/" on every system, so that a Windows root and what lies in it agree. */
const withSlashes = (location: string): string => location.replaceAll('\\', '/').replace(/\/+$/, '');

/** Whether a location is a folder itself or lies in it. Both must have their links resolved, or neither. */
export const liesIn = (location: string, folder: string): boolean => {
  const inner = withSlashes(location);
  const outer = withSlashes(folder);
  return inner === outer || inner.startsWith(`${outer}/`);
};

const reasonOf = (error: unknown): string => (error instanceof Error ? error.message : 'could not be opened');

/** Follows a reference from a place inside a folder and makes sure that neither `..` nor a link leads out of it. */
const followWithin = async (
  files: Files,
  from: string,
  reference: string,
  folder: string,
  folderName: string,
): Promise<Confined> => {
  const written = files.resolve(from, reference);
  // Told before the disk is asked, so that a refusal does not even tell whether the target exists.
  if (!liesIn(written, folder)) return { ok: false, reason: `leads out of ${folderName}` };
  let location: string;
  let outer: string;
  try {
    [location, outer] = await Promise.all([files.real(written), files.real(folder)]);
  } catch (error) {
    return { ok: false, reason: reasonOf(error) };
  }
  if (!liesIn(location, outer)) return { ok: false, reason: `leads by a link out of ${folderName}` };
  return { ok: true, location, within: outer };
};

/** Whether a folder has something under a name that does not lead out of it as written. */
const isThere = async (files: Files, written: string, folder: string): Promise<boolean> => {
  if (!liesIn(written, folder)) return true;
  try {
    return (await files.stat(written)) !== undefined;
  } catch {
    return true;
  }
};

const DATA = 'data:';

/**
 * The location that a reference of a document names, with every link resolved, or the reason why it is not followed.
 * Never rejects.
 */
export const confine = async (reference: string, reach: Reach): Promise<Confined> => {
  if (!reference.startsWith(DATA)) {
    const flaw = flawOf(reference);
    if (flaw !== undefined) return { ok: false, reason: flaw };
    return followWithin(reach.files, reach.document, reference, reach.root, "the plan's repository");
  }
  const rest = reference.slice(DATA.length);
  const flaw = flawOf(rest);
  if (flaw !== undefined) return { ok: false, reason: flaw };
  if (reach.restricted) return { ok: false, reason: 'names a data folder, and none is granted in restricted mode' };
  let answer: Confined = { ok: false, reason: 'names a data folder, and none is granted on this machine' };
  for (const folder of reach.dataFolders) {
    const confined = await followWithin(reach.files, `${folder}/.`, rest, folder, 'the data folder');
    // The first folder that has something under the name decides, also when it may not be followed there.
    if (confined.ok || (await isThere(reach.files, reach.files.resolve(`${folder}/.`, rest), folder))) return confined;
    answer = confined;
  }
  return answer;
};
