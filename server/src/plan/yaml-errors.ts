import type { YAMLError } from 'yaml';

/** Where a quote or bracket opens and the parser takes it to end. */
export interface BrokenAt {
  readonly from: number;
  readonly to: number;
  readonly what: 'quote' | 'bracket';
}

export interface SaidError {
  readonly from: number;
  readonly to: number;
  readonly reason: string;
}

export const NEVER_CLOSED = 'the quote opened here is never closed';

const TAB = 'a tab stands where YAML allows only blanks to indent';

/**
 * A syntax error in our words, on the characters to look at. An unclosed quote or bracket stands where it opens, not
 * where the text ends. Codes are those of the YAML parser; one that is not listed here gets a general sentence.
 */
export const sayBroken = (error: YAMLError, text: string, opened: readonly BrokenAt[]): SaidError => {
  const from = Math.min(error.pos[0], text.length);
  const here = text.charAt(from);
  const line = lineOf(text, from);
  const tab = tabBefore(text, line.from);
  if (tab !== undefined) return { from: tab, to: tab + 1, reason: TAB };
  switch (error.code) {
    case 'MISSING_CHAR':
      return sayMissing(error, text, from, opened);
    case 'BAD_INDENT': {
      const bracket = lastOpen(opened, 'bracket', from);
      if (error.message.startsWith('Flow') && bracket !== undefined) {
        const open = text.charAt(bracket.from);
        const close = open === '{' ? '}' : ']';
        // The parser also says this of a closing bracket that stands too far left; that one is there, so it is named.
        if (text.charAt(from) === close) {
          return {
            from,
            to: from + 1,
            reason: `the closing "${close}" must be indented further than the key it belongs to`,
          };
        }
        return {
          from: bracket.from,
          to: bracket.from + 1,
          reason: `the "${open}" opened here is never closed by a "${close}"`,
        };
      }
      return { ...line, reason: 'this line is not indented like the lines it belongs with' };
    }
    case 'TAB_AS_INDENT':
      return { ...oneAt(text, from), reason: TAB };
    case 'BAD_DQ_ESCAPE': {
      const to = Math.min(from + 2, text.length);
      const written = text.slice(from, to);
      return {
        from,
        to,
        reason: `${written} means nothing inside double quotes; single quotes take a backslash as it is`,
      };
    }
    case 'BAD_SCALAR_START':
      return {
        ...oneAt(text, from),
        reason: `a value cannot begin with ${here === '`' ? 'a backtick' : `"${here}"`} unless it is in quotes`,
      };
    case 'BLOCK_AS_IMPLICIT_KEY':
      return {
        ...oneAt(text, from),
        reason: 'a second ": " stands on this line; a value that holds a colon and a blank needs quotes',
      };
    case 'BLOCK_IN_FLOW':
      return {
        ...line,
        reason: 'inside { } and [ ] each value ends with a comma; here one is missing, or a bracket is',
      };
    case 'MULTILINE_IMPLICIT_KEY':
      return { ...lineOf(text, from), reason: 'this line has no key, that is a word, a colon and a blank' };
    case 'KEY_OVER_1024_CHARS':
      return { ...line, reason: 'this key is longer than 1024 characters' };
    case 'BAD_ALIAS':
    case 'ALIAS_PROPS':
    case 'BAD_PROP_ORDER':
    case 'MULTIPLE_ANCHORS':
    case 'MULTIPLE_TAGS':
      return {
        ...oneAt(text, from),
        reason: `"${here}" begins an anchor, an alias or a tag here, and not a right one; quotes make it plain text`,
      };
    case 'UNEXPECTED_TOKEN':
      return sayUnexpected(text, from);
    default:
      return { ...oneAt(text, from), reason: 'what stands here cannot be read as YAML' };
  }
};

const sayMissing = (error: YAMLError, text: string, from: number, opened: readonly BrokenAt[]): SaidError => {
  const { message } = error;
  if (message.startsWith('Missing closing')) {
    const quote = lastOpen(opened, 'quote', from);
    const at = quote?.from ?? from;
    return { ...oneAt(text, at), reason: NEVER_CLOSED };
  }
  if (message.startsWith('Flow')) {
    const bracket = lastOpen(opened, 'bracket', from);
    const at = bracket?.from ?? from;
    const close = text.charAt(at) === '{' ? '}' : ']';
    return { ...oneAt(text, at), reason: `the "${text.charAt(at)}" opened here is never closed by a "${close}"` };
  }
  if (message.startsWith('Missing ,')) return { ...oneAt(text, from), reason: 'a comma is missing before this' };
  if (message.startsWith('Missing space after'))
    return { ...oneAt(text, from), reason: 'a blank is missing after the colon' };
  if (message.startsWith('Comments must')) return { ...oneAt(text, from), reason: 'a blank is missing before the #' };
  if (message.startsWith('Sequence item'))
    return { ...lineOf(text, from), reason: 'this line stands in a list but does not begin with "- "' };
  if (message.startsWith('Implicit map keys')) {
    return {
      ...lineOf(text, from),
      reason: 'this line has no colon followed by a blank, so it is neither a key nor part of a value',
    };
  }
  return { ...oneAt(text, from), reason: 'a blank or a line break is missing before this' };
};

const sayUnexpected = (text: string, from: number): SaidError => {
  const here = text.charAt(from);
  if (here === ']' || here === '}') {
    return { ...oneAt(text, from), reason: `this "${here}" closes nothing` };
  }
  if (here === ',') return { ...oneAt(text, from), reason: 'this comma has nothing before it' };
  if (here === '-' && /\s|^$/.test(text.charAt(from + 1))) {
    return { ...oneAt(text, from), reason: 'a list cannot begin on the line of its key; it begins on the next line' };
  }
  if (from >= text.length) return { ...oneAt(text, from), reason: 'the text ends where more is needed' };
  const end = lineOf(text, from).to;
  return {
    from,
    to: Math.max(end, from),
    reason: 'the value has ended before this; a value that goes on needs quotes around the whole',
  };
};

/** The tab among the indentation of the line that begins at a place; other errors of that line come from it. */
const tabBefore = (text: string, lineStart: number): number | undefined => {
  let at = lineStart - 1;
  let tab: number | undefined;
  while (at >= 0 && /[ \t]/.test(text.charAt(at))) {
    if (text.charAt(at) === '\t') tab = at;
    at--;
  }
  return tab;
};

/** The innermost quote or bracket that opened before a place and had not ended there. */
const lastOpen = (opened: readonly BrokenAt[], what: BrokenAt['what'], at: number): BrokenAt | undefined => {
  const candidates = opened.filter((each) => each.what === what && each.from < at && each.to >= at - 1);
  return (
    candidates.sort((one, other) => other.from - one.from)[0] ?? opened.filter((each) => each.what === what).at(-1)
  );
};

const oneAt = (text: string, from: number): { from: number; to: number } => {
  const at = Math.min(from, text.length);
  return { from: at, to: Math.min(at + 1, text.length) };
};

/** The line of a place, without indentation and line break. */
const lineOf = (text: string, at: number): { from: number; to: number } => {
  let from = text.lastIndexOf('\n', at - 1) + 1;
  const newline = text.indexOf('\n', at);
  let to = newline === -1 ? text.length : newline;
  while (from < to && /[ \t]/.test(text.charAt(from))) from++;
  while (to > from && /\s/.test(text.charAt(to - 1))) to--;
  return { from, to };
};
