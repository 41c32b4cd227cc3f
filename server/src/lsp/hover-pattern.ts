import type { FactTools } from '../facts/fact.ts';
import { orLacking } from '../facts/lacking.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import { isPattern, patternPoints } from '../facts/pattern.ts';
import { type LineHeight, patternHeights, patternLines } from '../facts/pattern-heights.ts';
import { asksForPhotos, flownSpacing, photoPlan } from '../facts/photo-plan.ts';
import { routePlaceOf } from '../facts/route-order.ts';
import type { Item, Leg } from '../plan/model.ts';
import { sayMeasure } from '../rulebook/say-measure.ts';
import { sayCount, sayDistance, sayNumber } from '../units/say.ts';
import { escapeMarkdown } from './markdown.ts';

const say = (value: number): string => sayMeasure({ value, unit: 'm' });

const line = (name: string, derive: () => string): string => {
  const answer = orLacking(derive);
  return `${name}: ${'missing' in answer ? `not assessed: ${escapeMarkdown(answer.missing)}` : answer.known}`;
};

const lengthOf = (legs: readonly Leg[], tools: FactTools): number =>
  legs.reduce((sum, leg) => sum + tools.ask(pathOfLeg, leg).length, 0);

/** `12 lines, 40 m apart; 2.4 km on them, 2.9 km with the ways between` */
const sayLines = (item: Item, tools: FactTools): string => {
  const points = tools.ask(patternPoints, item);
  const count = new Set(points.map(({ partOf }) => partOf?.line)).size;
  const between = points.slice(1).flatMap((point) => routePlaceOf(point, tools).arriving ?? []);
  const whole = sayDistance(lengthOf(between, tools));
  const { pattern } = item;
  if (pattern === undefined || pattern.kind === 'circle') {
    return `${sayCount(count, 'turn')} of ${sayCount((points.length - 1) / count, 'side')}; ${whole} of way`;
  }
  const spacing = orLacking(() => flownSpacing(item, pattern, tools));
  const apart = 'known' in spacing && count > 1 ? `, ${say(spacing.known)} apart` : '';
  const onLines = sayDistance(lengthOf(tools.ask(patternLines, item), tools));
  return `${sayCount(count, 'line')}${apart}; ${onLines} on ${count === 1 ? 'it' : 'them'}, ${whole} with the ways between`;
};

const sayPhotos = (item: Item, tools: FactTools): string => {
  const { across, along, samplingDistance, base, height } = tools.ask(photoPlan, item);
  return [
    `at ${say(height)} above ground ${sayNumber(across)} m across and ${sayNumber(along)} m along`,
    ...(samplingDistance === undefined ? [] : [`${sayNumber(samplingDistance * 100, 2)} cm from pixel to pixel`]),
    ...(base === undefined ? [] : [`one every ${sayNumber(base)} m`]),
  ].join(', ');
};

const sayExtreme = ({ leg, place }: LineHeight): string =>
  `${say(place.value)} on leg ${escapeMarkdown(leg.from.id.value)} to ${escapeMarkdown(leg.to.id.value)} at ${sayDistance(place.along)}`;

/** What is worked out for a survey, a corridor or a circle. Nothing for other items. */
export const tellPattern = (item: Item, tools: FactTools): readonly string[] => {
  const { pattern } = item;
  if (!isPattern(item)) return [];
  return [
    line(pattern?.kind === 'circle' ? 'Turns' : 'Lines', () => sayLines(item, tools)),
    line('Above the ground on it', () => {
      const { least, greatest, lacking } = tools.ask(patternHeights, item);
      const rest = lacking.slice(0, 1).map(({ missing }) => `; not assessed: ${escapeMarkdown(missing)}`);
      return `least ${sayExtreme(least)}, greatest ${sayExtreme(greatest)}${rest.join('')}`;
    }),
    ...(pattern !== undefined && pattern.kind !== 'circle' && asksForPhotos(pattern)
      ? [line('Photos', () => sayPhotos(item, tools))]
      : []),
  ];
};
