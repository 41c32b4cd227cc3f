import type { DocumentLink } from 'vscode-languageserver';
import { describeField } from '../../plan/describe.ts';
import { endOf, startOf } from '../../text/span.ts';
import type { Files } from '../../world/files.ts';
import { rangeBetween } from '../convert.ts';
import type { OpenDocument } from '../documents.ts';
import { walkTrees } from '../trees.ts';

/** A reference of a document: its text, and where it stands. */
export interface Reference {
  readonly text: string;
  readonly from: number;
  readonly to: number;
}

/** Every reference to a file, in the order of the text. Items of the route have none and are many. */
export const referencesIn = (document: OpenDocument): readonly Reference[] => {
  const all = document.trees.of(document);
  const blocks = all.blocks.filter(({ role }) => role !== 'item');
  return [...walkTrees({ ...all, blocks }, document.language)].flatMap(({ shape, path, node }) => {
    if (node.kind !== 'scalar' || node.style === 'block' || node.text.trim() === '') return [];
    if (describeField(shape, path)?.reads !== 'reference') return [];
    return [{ text: node.text, from: startOf(node.span), to: endOf(node.span) }];
  });
};

/** The location of a reference that stays inside the root; data folders and all else are followed by the review only. */
export const locationOfReference = (
  reference: string,
  document: string,
  root: string,
  files: Files,
): string | undefined => {
  if (/[:\\%]|^[/~]/.test(reference)) return undefined;
  const location = files.resolve(document, reference);
  const outer = root.replaceAll('\\', '/').replace(/\/+$/, '');
  return location.replaceAll('\\', '/').startsWith(`${outer}/`) ? location : undefined;
};

/** Links to the files that a document refers to. Folders of tiles cannot be opened and have none. */
export const linksOf = (
  document: OpenDocument,
  root: string,
  files: Files,
  uriOf: (location: string) => string,
): DocumentLink[] =>
  referencesIn(document).flatMap(({ text, from, to }) => {
    const location = locationOfReference(text, document.location, root, files);
    if (location === undefined || /[/]$/.test(text)) return [];
    return [{ range: rangeBetween(document.lines, from, to), target: uriOf(location), tooltip: `Open ${text}` }];
  });
