import type { Range } from 'vscode-languageserver';
import { readPlan } from '../../plan/read.ts';
import { Lines } from '../../text/lines.ts';
import { endOf, startOf } from '../../text/span.ts';
import type { Files } from '../../world/files.ts';
import { filesBelow } from '../completion/files-below.ts';
import { rangeBetween } from '../convert.ts';
import { languageOf } from '../documents.ts';
import { locationOfReference } from '../layout/links.ts';
import { blocksOfText } from '../trees.ts';
import { type Name, namesIn } from './names-in.ts';

/** A place in a file where a thing is named. */
export interface NamedPlace {
  readonly location: string;
  readonly range: Range;
  readonly role: Name['role'];
  /** Of a plan: how the name is written; of a file of the world it stands in a JSON string. */
  readonly style: Name['style'] | 'json';
}

/** Larger files are not looked into: a name in them is then not found, and renaming says so. */
const LARGEST = 8 * 1024 * 1024;

const textAt = async (files: Files, location: string): Promise<string | undefined> => {
  try {
    const found = await files.stat(location);
    if (found?.kind !== 'file' || found.size > LARGEST) return undefined;
    return new TextDecoder('utf-8', { ignoreBOM: true }).decode(await files.read(location));
  } catch {
    return undefined;
  }
};

/** The members of a feature's properties that hold the names of each kind, in our own layout. */
const MEMBERS: Readonly<Partial<Record<Name['kind'], string>>> = { zone: 'id|name', grid: 'grid', obstacle: 'name' };

const inWorldFile = (text: string, location: string, { kind, name }: Name): readonly NamedPlace[] => {
  const member = MEMBERS[kind];
  if (member === undefined) return [];
  const lines = new Lines(text);
  const written = JSON.stringify(name);
  return [...text.matchAll(new RegExp(`"(?:${member})"\\s*:\\s*("(?:[^"\\\\\\n]|\\\\.)*")`, 'g'))].flatMap((match) => {
    if (match[1] !== written) return [];
    const to = match.index + match[0].length;
    const range = rangeBetween(lines, to - written.length, to);
    return [{ location, range, role: 'declares', style: 'json' }];
  });
};

/** The files of a plan that declare names of a kind, as the plan writes them. */
const referencesOf = (text: string, location: string, kind: Name['kind']): readonly string[] => {
  const plan = readPlan(text, location);
  if (kind === 'zone' || kind === 'grid') return plan.airspace.map(({ value }) => value);
  return plan.obstacles?.kind === 'list' ? plan.obstacles.files.map(({ value }) => value) : [];
};

const inPlan = (text: string, location: string, sought: Name): readonly NamedPlace[] => {
  const lines = new Lines(text);
  const language = languageOf('', location);
  return namesIn(blocksOfText(text, location, language), language)
    .filter(({ kind, name }) => kind === sought.kind && name === sought.name)
    .map(({ span, role, style }) => ({
      location,
      range: rangeBetween(lines, startOf(span), endOf(span)),
      role,
      style,
    }));
};

/** What lies at the end of a reference, with its links resolved; undefined where it cannot be followed. */
const targetOf = async (
  files: Files,
  document: string,
  reference: string,
  root: string,
): Promise<string | undefined> => {
  const written = locationOfReference(reference, document, root, files);
  if (written === undefined) return undefined;
  try {
    const [real, outer] = await Promise.all([files.real(written), files.real(root)]);
    return real.startsWith(outer) ? real : undefined;
  } catch {
    return undefined;
  }
};

export const isMission = (name: string): boolean => /\.mission\.ya?ml$/i.test(name);

/**
 * Everywhere a name of a plan is declared or used: in the plan itself, in the files that it names, and, where one of those
 * declares it, in the other plans of the repository that name the same file.
 */
export const placesOfName = async (
  sought: Name,
  document: { readonly location: string; readonly text: string },
  root: string,
  files: Files,
  isGivenUp: () => boolean,
): Promise<readonly NamedPlace[]> => {
  const own = inPlan(document.text, document.location, sought);
  if (!isShared(sought.kind)) return own;
  const declaring: NamedPlace[] = [];
  for (const reference of referencesOf(document.text, document.location, sought.kind)) {
    const target = await targetOf(files, document.location, reference, root);
    const text = target === undefined ? undefined : await textAt(files, target);
    if (target !== undefined && text !== undefined) declaring.push(...inWorldFile(text, target, sought));
  }
  if (declaring.length === 0) return own;
  const sources = new Set(declaring.map(({ location }) => location));
  const others: NamedPlace[] = [];
  const { locations } = await filesBelow(files, root, isMission, isGivenUp);
  for (const location of locations) {
    if (isGivenUp()) break;
    if (location === document.location) continue;
    const text = await textAt(files, location);
    if (text === undefined || !text.includes(sought.name)) continue;
    const targets = await Promise.all(
      referencesOf(text, location, sought.kind).map((reference) => targetOf(files, location, reference, root)),
    );
    if (targets.some((target) => target !== undefined && sources.has(target)))
      others.push(...inPlan(text, location, sought));
  }
  return [...own, ...declaring, ...others];
};

/** Names that files beside the plan declare. */
export const isShared = (kind: Name['kind']): boolean => kind === 'zone' || kind === 'grid' || kind === 'obstacle';
