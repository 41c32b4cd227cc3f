import { isAbsolute, relative } from 'node:path';
import { shownPath } from './shown-path.ts';

/**
 * A document's path as a hosting platform knows it: counted from the top of its checkout, whatever the working folder
 * is. Without such a top, or outside it, the path as people know it.
 */
export const hostedPath = (document: string, top: string | undefined): string => {
  if (top === undefined) return shownPath(document);
  const inside = relative(top, document);
  if (inside === '' || isAbsolute(inside) || inside === '..' || /^\.\.[\\/]/.test(inside)) return shownPath(document);
  return inside.replaceAll('\\', '/');
};

const LONE = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/**
 * A path as a URI reference (RFC 3986). An absolute path becomes a `file:` URI, so that it is not taken for the authority
 * of one; a colon in the first segment is escaped, so that it is not taken for a scheme. A lone surrogate has no UTF-8
 * and becomes U+FFFD.
 */
export const uriOf = (path: string): string => {
  const encoded = path
    .split('/')
    .map((segment) => encodeURIComponent(segment.replace(LONE, '\ufffd')))
    .join('/');
  if (path.startsWith('/')) return `file://${encoded}`;
  return /^[A-Za-z]%3A\//.test(encoded) ? `file:///${encoded.replace('%3A', ':')}` : encoded;
};
