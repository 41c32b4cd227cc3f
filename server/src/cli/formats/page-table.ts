import type { BoundedPage } from './bounded-page.ts';

/** A table with as many of its rows as a share of the room takes; the rest is counted below it. */
export const table = (
  page: BoundedPage,
  share: number,
  title: string,
  heads: readonly string[],
  rows: readonly string[],
): void => {
  if (rows.length === 0) return;
  const opening = `**${title}**\n\n| ${heads.join(' | ')} |\n| ${heads.map(() => '---').join(' | ')} |\n`;
  const rest = (left: number): string => `${left} more ${left === 1 ? 'is' : 'are'} not shown here.\n\n`;
  page.part(page.room * share, (part) => {
    if (!part.addAll(opening, rows, '\n', rest)) part.add(`**${title}**: ${rows.length}, not shown here.\n\n`);
  });
};
