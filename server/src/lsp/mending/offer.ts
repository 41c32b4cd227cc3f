import type { CodeActionKind } from 'vscode-languageserver';
import type { Finding } from '../../rulebook/finding.ts';

/**
 * A change of the open document's text. Where `text` has blanks (`${1}`) it is a snippet: they are what a person owes, the
 * cursor goes there, and later lines are indented from the line in which it is put in. Without blanks it is plain text.
 */
export interface BlankEdit {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** A mend that no rule offers, since it needs a person's word or moves more than one place. */
export interface Offer {
  readonly title: string;
  readonly kind: CodeActionKind;
  readonly edits: readonly BlankEdit[];
  readonly finding?: Finding;
}

/** Text of a plan inside a snippet. */
export const inSnippet = (text: string): string => text.replace(/[\\$}]/g, '\\$&');
