/**
 * Text of a plan as XML 1.0 character data, for elements and attributes alike. What XML 1.0 (section 2.2) does not
 * allow at all, and what could turn or hide text, becomes a visible escape; line breaks stay only where `lines` are kept.
 */
const NOT_IN_XML =
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  // Also so that "]]>" cannot stand in character data.
  '>': '&gt;',
  '"': '&quot;',
  "'": '&apos;',
};

const visible = (unit: string): string => `\\u{${unit.charCodeAt(0).toString(16)}}`;

/** One line: for attributes and names. */
export const xmlLine = (text: string): string =>
  text
    .replace(/[\t\n\r]/g, visible)
    .replace(NOT_IN_XML, visible)
    .replace(/[&<>"']/g, (sign) => ENTITIES[sign] ?? sign);

/** Several lines of ours, each escaped by itself, so that a line break of a plan does not start one. */
export const xmlLines = (lines: readonly string[]): string => lines.map(xmlLine).join('\n');
