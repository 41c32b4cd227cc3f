import { type Markup, markup, type Part } from './markup.ts';
import type { Said } from './say-route.ts';

/** Reasons why something could not be said, each once, in the order in which they came up. */
export class Unsaid {
  readonly #reasons = new Map<string, number>();

  /** What is said, or "not assessed" with the number of its reason below the table. */
  cell(said: Said, before = ''): Part {
    if (typeof said === 'string') return `${before}${said}`;
    const number = this.#reasons.get(said.missing) ?? this.#reasons.size + 1;
    this.#reasons.set(said.missing, number);
    return markup`${before}not assessed <sup>(${String(number)})</sup>`;
  }

  get reasons(): Markup {
    if (this.#reasons.size === 0) return markup``;
    const each = [...this.#reasons].map(([reason, number]) => markup`<li value="${String(number)}">${reason}</li>`);
    return markup`<p class="fine">Not assessed:</p><ol class="fine">${each}</ol>`;
  }
}

/** Lines of a cell; what is undefined is left out. */
export const lines = (...parts: readonly Part[]): Markup => {
  const each = parts.filter((part) => part !== undefined && part !== '');
  return markup`${each.map((part, i) => markup`${i === 0 ? undefined : markup`<br/>`}${part}`)}`;
};

/** A table whose first column names its rows. A wide one scrolls by itself, also by keyboard. */
export const table = (caption: string, heads: readonly string[], rows: readonly (readonly Part[])[]): Markup => {
  if (rows.length === 0) return markup``;
  const head = heads.map((text) => markup`<th scope="col">${text}</th>`);
  const body = rows.map(
    ([first, ...rest]) =>
      markup`<tr><th scope="row">${first}</th>${rest.map((part) => markup`<td>${part}</td>`)}</tr>\n`,
  );
  return markup`<div class="wide" role="region" aria-label="${caption}" tabindex="0"><table><caption>${caption}</caption><thead><tr>${head}</tr></thead><tbody>\n${body}</tbody></table></div>\n`;
};

export const section = (id: string, title: string, ...content: readonly Part[]): Markup =>
  markup`<section aria-labelledby="${id}"><h2 id="${id}">${title}</h2>\n${content}</section>\n`;

/** Pairs of a name and what is said of it; a pair without anything is left out. */
export const terms = (pairs: readonly (readonly [string, Part])[]): Markup => {
  const each = pairs
    .filter(([, said]) => said !== undefined && said !== '')
    .map(([name, said]) => markup`<div><dt>${name}</dt><dd>${said}</dd></div>\n`);
  return markup`<dl>\n${each}</dl>\n`;
};

export const bullets = (items: readonly Part[]): Markup =>
  items.length === 0 ? markup`` : markup`<ul>${items.map((item) => markup`<li>${item}</li>`)}</ul>\n`;
