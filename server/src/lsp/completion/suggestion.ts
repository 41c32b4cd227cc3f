import type { CompletionItemKind } from 'vscode-languageserver';

/** Something that can be written at the cursor, before it is put into the protocol's words. */
export interface Suggestion {
  /** What the list shows, and what is matched with what has been typed. */
  readonly label: string;
  readonly kind: CompletionItemKind;
  /** Replaces the piece that is being written. Absent = the label. */
  readonly text?: string;
  /** True where `text` has blanks to fill. */
  readonly isSnippet?: boolean;
  readonly detail?: string;
  readonly documentation?: string;
  /** Lower comes first; within a rank the order of the suggestions stays. */
  readonly rank?: number;
  /** Matched with what has been typed in place of the label. */
  readonly matched?: string;
  /** True where what follows can be completed in turn. */
  readonly opensMore?: boolean;
}
