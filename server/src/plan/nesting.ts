import { Composer, type CST, type Document, Lexer, Parser } from 'yaml';

/**
 * How deep lists and maps may stand inside each other. A plan needs 6. The cap exists because composing a thousand
 * nested brackets can exhaust the machine in a way that no program can catch.
 */
export const DEEPEST_NESTING = 64;

/** Largest document, in UTF-16 code units: over 50,000 points. */
export const LONGEST_TEXT = 8_000_000;

/** Largest part that is read in one piece: the head, one route item, or a text that cannot be taken apart. */
export const LONGEST_BLOCK = 1_000_000;

/** Most items a route may have. */
export const MOST_ITEMS = 20_000;

/** What the YAML parser made of a text, or that it was not let near the text because it nests too deep. */
export type Parsed =
  | {
      readonly documents: readonly Document.Parsed[];
      readonly extras: readonly Extra[];
      readonly tooDeepAt?: undefined;
    }
  | { readonly tooDeepAt: number };

/** An anchor, tag or directive, which the composed nodes no longer tell the place of. */
export interface Extra {
  readonly what: 'anchor' | 'tag' | 'directive';
  readonly at: number;
  readonly text: string;
}

/**
 * Parses YAML text without resolving anything: each scalar stays the text it is. Nesting is measured on the parser's
 * own stack, token by token, before anything is composed, since composing recurses and token parsing does not.
 */
export const parseYaml = (text: string): Parsed => {
  const parser = new Parser();
  const tokens: CST.Token[] = [];
  for (const lexeme of new Lexer().lex(text)) {
    for (const token of parser.next(lexeme)) tokens.push(token);
    // The stack also holds the document and the scalar being read.
    if (parser.stack.length > DEEPEST_NESTING + 2) return { tooDeepAt: parser.offset };
  }
  for (const token of parser.end()) tokens.push(token);

  const composer = new Composer({ schema: 'failsafe', uniqueKeys: false, stringKeys: false });
  const documents = [...composer.compose(tokens, true, text.length)] as Document.Parsed[];
  const extras: Extra[] = [];
  if (/[&!%]/.test(text)) for (const token of tokens) collectExtras(token, extras);
  return { documents, extras };
};

const collectExtras = (token: CST.Token | null | undefined, into: Extra[]): void => {
  if (!token) return;
  switch (token.type) {
    case 'directive':
      into.push({ what: 'directive', at: token.offset, text: token.source });
      return;
    case 'anchor':
    case 'tag':
      into.push({ what: token.type, at: token.offset, text: token.source });
      return;
    case 'document':
      for (const part of token.start) collectExtras(part, into);
      collectExtras(token.value, into);
      return;
    case 'block-scalar':
      for (const part of token.props) collectExtras(part, into);
      return;
    case 'block-map':
    case 'block-seq':
    case 'flow-collection':
      for (const item of token.items) {
        for (const part of item.start) collectExtras(part, into);
        collectExtras(item.key, into);
        for (const part of item.sep ?? []) collectExtras(part, into);
        collectExtras(item.value, into);
      }
      return;
    default:
      return;
  }
};
