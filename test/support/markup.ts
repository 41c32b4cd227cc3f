import MarkdownIt from 'markdown-it';

/**
 * Markdown as a hosting platform reads it: CommonMark with tables, addresses made into links, and HTML let through, so
 * that any of it that comes out of a plan's text is seen.
 */
const reader = new MarkdownIt({ html: true, linkify: true, typographer: false });

export const renderedMarkdown = (markdown: string): string => reader.render(markdown);

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

export const withoutEntities = (html: string): string =>
  html.replace(/&(?:#x([0-9a-f]+)|#(\d+)|(\w+));/gi, (whole, hex: string, decimal: string, name: string) => {
    if (hex !== undefined) return String.fromCodePoint(Number.parseInt(hex, 16));
    if (decimal !== undefined) return String.fromCodePoint(Number(decimal));
    return ENTITIES[name] ?? whole;
  });

/** Names of the tags of a page, each once, with what they carry. */
export const tagsOf = (html: string): readonly string[] =>
  [...new Set([...html.matchAll(/<(\/?[a-z][^>]*|!--[\s\S]*?--)>/gi)].map((match) => match[1] ?? ''))].sort();

/** The texts of all cells of tables, as a reader sees them. */
export const cellsOf = (html: string): readonly string[] =>
  [...html.matchAll(/<td[^>]*>([\s\S]*?)<\/td>/g)].map((match) => withoutEntities(match[1] ?? ''));
