/**
 * Markup that is safe by how it is made: everything put into the template is escaped, unless it is such markup itself. It
 * is well-formed XML and HTML alike, for pages and for pictures by themselves.
 */
export interface Markup {
  readonly markup: string;
}

export type Part = Markup | string | number | undefined | readonly Part[];

/**
 * What XML 1.0 (section 2.2) does not allow at all, and what could turn or hide text, becomes a visible escape; a line
 * break, too, so that no text of a plan begins a line of its own.
 */
const NOT_IN_XML =
  /[\u0000-\u001f\u007f-\u009f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  // Also so that "]]>" cannot stand in character data.
  '>': '&gt;',
  '"': '&quot;',
  "'": '&apos;',
};

/** Text of a plan as XML 1.0 character data, for elements and attributes alike, on one line. */
export const xmlLine = (text: string): string =>
  text
    .replace(NOT_IN_XML, (unit) => `\\u{${unit.charCodeAt(0).toString(16)}}`)
    .replace(/[&<>"']/g, (sign) => ENTITIES[sign] ?? sign);

/** Numbers are places on a picture: a tenth of its unit is enough, and no engine prints it otherwise. */
const written = (part: Part): string => {
  if (part === undefined) return '';
  if (typeof part === 'string') return xmlLine(part);
  if (typeof part === 'number') return Number.isFinite(part) ? String(Number(part.toFixed(1)) + 0) : '0';
  if ('markup' in part) return part.markup;
  return part.map(written).join('');
};

export const markup = (texts: TemplateStringsArray, ...parts: readonly Part[]): Markup => ({
  markup: texts.reduce((all, text, i) => `${all}${written(parts[i - 1])}${text}`),
});

/** So much of a name fits into a picture; its end is cut off with an ellipsis, and the tables have all of it. */
export const shortly = (text: string, most = 28): string => {
  const units = [...text];
  return units.length <= most ? text : `${units.slice(0, most - 1).join('')}…`;
};
