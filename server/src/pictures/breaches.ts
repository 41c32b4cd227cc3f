import type { FactTools } from '../facts/fact.ts';
import { itemPlace } from '../facts/item-place.ts';
import { orLacking } from '../facts/lacking.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import { distance } from '../geo/geodesy.ts';
import type { Review } from '../review/outcome.ts';
import type { Finding, FindingPlace } from '../rulebook/finding.ts';
import type { LonLat } from '../units/frames.ts';
import type { FlightLine, LineLeg } from './flight-line.ts';
import { type Markup, markup } from './markup.ts';

/** A finding as pictures and tables name it: by its number, its level and, where it does not stand alone, its state. */
export interface Breach {
  /** From 1, in the order of the report: findings first, then what was accepted or lifted. */
  readonly number: number;
  readonly finding: Finding;
  readonly state: 'found' | 'accepted' | 'lifted';
}

export type PlacedBreach = Breach & { readonly finding: Finding & { readonly place: FindingPlace } };

type Reported = Pick<Review, 'findings' | 'accepted' | 'lifted'>;

export const breachesOf = ({ findings, accepted, lifted }: Reported): readonly Breach[] =>
  [
    ...findings.map((finding) => ({ finding, state: 'found' as const })),
    ...accepted.map(({ finding }) => ({ finding, state: 'accepted' as const })),
    ...lifted.map(({ finding }) => ({ finding, state: 'lifted' as const })),
  ].map((one, i) => ({ ...one, number: i + 1 }));

export const isPlaced = (breach: Breach): breach is PlacedBreach => breach.finding.place !== undefined;

/** `stop 1`, `caution 4 (accepted)` */
export const sayBreach = ({ number, finding, state }: Breach): string =>
  `${finding.level} ${number}${state === 'found' ? '' : ` (${state})`}`;

/** A finding on a line: where it is worst, and the stretch of it. */
export interface LineMark {
  readonly breach: Breach;
  readonly along: number;
  readonly from: number;
  readonly to: number;
  readonly altitude?: number;
}

/** Places that are nearer to each other are the same, in metres. */
const SAME = 1;
/** A quick look before an exact one, in degrees of latitude: more than `SAME`. */
const NEAR = 0.0005;

const isWithin = (value: number, one: number, other: number): boolean =>
  value >= Math.min(one, other) - NEAR && value <= Math.max(one, other) + NEAR;

const isOnLeg = ({ leg, length }: LineLeg, { at, alongM = Number.NaN }: FindingPlace, tools: FactTools): boolean => {
  if (!(alongM >= 0 && alongM <= length + SAME)) return false;
  const { from, to, at: placeAt } = tools.ask(pathOfLeg, leg);
  return isWithin(at.lat, from.lat, to.lat) && distance(placeAt(alongM), at) < SAME;
};

const isAt = (one: LonLat, other: LonLat): boolean =>
  Math.abs(one.lat - other.lat) < NEAR && distance(one, other) < SAME;

/** Of thousands the first ones, which are the worst, are looked for: a picture shows fewer. */
const MOST_LOOKED_FOR = 100;

/** Where findings lie on a line. What lies on none of its legs and at none of its places is not on it. */
export const marksOn = (line: FlightLine, breaches: readonly Breach[], tools: FactTools): readonly LineMark[] =>
  breaches
    .filter(isPlaced)
    .slice(0, MOST_LOOKED_FOR)
    .flatMap((breach): readonly LineMark[] => {
      const { place, intervals, subject } = breach.finding;
      const { altitudeAmslM: altitude } = place;
      const height = altitude === undefined ? {} : { altitude };
      const named = line.legs.filter(
        ({ leg }) => subject === `leg ${leg.from.id.value} to ${leg.to.id.value}` && place.alongM !== undefined,
      );
      const on = [...named, ...line.legs].find((each) => isOnLeg(each, place, tools));
      if (on !== undefined) {
        const along = on.from + (place.alongM ?? 0);
        const ends = (intervals ?? []).flatMap(({ fromAlongM, toAlongM }) => [
          on.from + fromAlongM,
          on.from + toAlongM,
        ]);
        return [{ breach, along, from: Math.min(along, ...ends), to: Math.max(along, ...ends), ...height }];
      }
      const there = line.places.find(({ item }) => {
        const at = orLacking(() => tools.ask(itemPlace, item));
        return 'known' in at && isAt(at.known, place.at);
      });
      return there === undefined ? [] : [{ breach, along: there.along, from: there.along, to: there.along, ...height }];
    });

const SHAPES: Readonly<Record<Finding['level'], (x: number, y: number) => Markup>> = {
  stop: (x, y) =>
    markup`<rect x="${x - 6}" y="${y - 6}" width="12" height="12"/><path d="M${x - 3} ${y - 3}l6 6m0 -6l-6 6" stroke="#fff" stroke-width="1.8"/>`,
  caution: (x, y) =>
    markup`<path d="M${x} ${y - 7}l7 12h-14z"/><path d="M${x} ${y - 3}v4m0 1.2v1.6" stroke="#fff" stroke-width="1.6"/>`,
  note: (x, y) => markup`<circle cx="${x}" cy="${y}" r="6"/><circle cx="${x}" cy="${y}" r="2" fill="#fff"/>`,
};

/** A finding's sign: a square with a cross for a stop, a triangle for a caution, a ring for a note. The word stands beside it. */
export const sign = ({ finding, state }: Breach, x: number, y: number): Markup =>
  markup`<g class="breach${state === 'found' ? '' : ' settled'}" fill="${state === 'found' ? '#a3000b' : '#555'}" stroke="#fff" stroke-width="1" paint-order="stroke">${SHAPES[finding.level](x, y)}</g>`;
