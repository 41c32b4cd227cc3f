import type { Aircraft } from '../plan/aircraft.ts';
import { sayMeasure } from '../rulebook/say-measure.ts';
import { type Span, startOf } from '../text/span.ts';
import { isMissing, type Provenance } from '../world/world.ts';
import type { Judgement } from './judgement.ts';
import { referencesIn } from './layout/links.ts';
import { escapeMarkdown } from './markdown.ts';

const sayAircraft = ({ name, kind, mass }: Aircraft): string =>
  [
    name?.value ?? 'an aircraft without a name',
    ...(kind === undefined ? [] : [kind.value]),
    ...(mass === undefined ? [] : [sayMeasure({ value: mass.value, unit: 'kg' })]),
  ]
    .map(escapeMarkdown)
    .join(', ');

const saySource = ({ edition, retrieved }: Provenance): string =>
  [
    `edition ${escapeMarkdown(edition)}`,
    ...(retrieved === undefined ? [] : [`retrieved ${escapeMarkdown(retrieved)}`]),
  ].join(', ');

/** What lies behind a reference to a file: its edition and age, the aircraft, or why it could not be used. */
export const referenceAt = (
  judgement: Judgement,
  offset: number,
): readonly { readonly span: Span; readonly text: string }[] => {
  const { document, input, review } = judgement;
  if (input === undefined || review === undefined) return [];
  const found = referencesIn(document).find(({ from, to }) => from <= offset && offset <= to);
  if (found === undefined) return [];
  const { text, from, to } = found;
  const { aircraft, problems } = input.world;
  const isAircraft = input.plan.aircraft !== undefined && startOf(input.plan.aircraft.span) === from;
  const lines = [
    ...(isAircraft && !isMissing(aircraft) ? [sayAircraft(aircraft)] : []),
    ...review.data.filter(({ name }) => name === text).map(saySource),
    ...(problems.get(text) ?? []).map((problem) => `${escapeMarkdown(text)} ${escapeMarkdown(problem)}`),
  ];
  if (lines.length === 0) return [];
  const span: Span = { anchor: { document: document.location, at: 0 }, from, to };
  return [{ span, text: `**${escapeMarkdown(text)}**: ${lines.join('  \n')}` }];
};
