import type { Camera } from '../plan/camera.ts';
import type { AreaShape, Item, LegTerms, LostLink, PatternTerms, Plan, WrittenHeight } from '../plan/model.ts';
import type { PhotoText } from '../plan/pattern.ts';
import { digestOf } from '../text/digest.ts';
import type { LonLat } from '../units/frames.ts';
import { defineFact } from './fact.ts';

const ofPlace = (at: LonLat | undefined): string => (at === undefined ? '-' : `${at.lat} ${at.lon}`);
const ofHeight = (height: WrittenHeight | undefined): string =>
  height === undefined ? '-' : `${height.number} ${height.unit} ${height.datum}`;
const ofNumber = (amount: { readonly value: number } | undefined): string =>
  amount === undefined ? '-' : String(amount.value);

const ofShape = (shape: AreaShape | undefined): string => {
  if (shape === undefined) return '-';
  if (shape.kind === 'circle') return `circle ${ofNumber(shape.radius)} ${ofPlace(shape.around.value)}`;
  return `polygon ${shape.ring.map((corner) => ofPlace(corner.value)).join(' ')}`;
};

/** Parts of an item that few have. Without them a digest is what it was before they existed. */
const rareParts = ({ window, lasts, pattern, drop }: Item): readonly string[] => [
  ...(drop === undefined ? [] : [`drop ${drop.what?.value ?? '-'} ${ofNumber(drop.mass)} ${ofNumber(drop.sinks)}`]),
  ...(window === undefined ? [] : [`window ${window.from?.value.at ?? '-'} ${window.until?.value.at ?? '-'}`]),
  ...(lasts === undefined ? [] : [`for ${lasts.value}`]),
  ...(pattern === undefined ? [] : [ofPattern(pattern)]),
];

const ofTerms = (terms: LegTerms | undefined): string =>
  `${ofNumber(terms?.speed)} ${terms?.speedIs ?? '-'} ${ofHeight(terms?.follows?.height)}`;

const ofCamera = (camera: Camera | undefined): string =>
  [
    camera?.sensorAcross,
    camera?.sensorAlong,
    camera?.imageAcross,
    camera?.imageAlong,
    camera?.focalLength,
    camera?.shutter,
    camera?.stops,
  ]
    .map(ofNumber)
    .join(' ');

const ofPhotos = ({
  spacing,
  overlap,
  camera,
  groundSamplingDistance,
  firstTurn,
  firstLine,
  lastLine,
}: PhotoText): readonly string[] => [
  ...[spacing, overlap?.front, overlap?.side, groundSamplingDistance, firstLine, lastLine].map(ofNumber),
  firstTurn?.value ?? '-',
  ofCamera(camera),
];

const ofShapeOfPattern = (pattern: PatternTerms): readonly string[] => {
  switch (pattern.kind) {
    case 'survey':
      return [ofShape(pattern.outline), ofNumber(pattern.course), ...ofPhotos(pattern)];
    case 'corridor':
      return [
        (pattern.along ?? []).map((corner) => ofPlace(corner.value)).join(' '),
        ofNumber(pattern.width),
        ofNumber(pattern.lines),
        ...ofPhotos(pattern),
      ];
    case 'circle':
      return [
        ofPlace(pattern.around?.value),
        ...[pattern.radius, pattern.turns, pattern.begins, pattern.sides].map(ofNumber),
        pattern.turning?.value ?? '-',
      ];
  }
};

const ofPattern = (pattern: PatternTerms): string =>
  [ofHeight(pattern.altitude), ofTerms(pattern.terms), ...ofShapeOfPattern(pattern)].join(' ');

/** Without a place to fly to it is what it was before there were such places. */
const ofLostLink = (lostLink: LostLink | undefined): string => {
  const { action, to, at } = lostLink ?? {};
  return to === undefined ? (action?.value ?? '-') : `fly to ${to.value} ${ofPlace(at?.value)}`;
};

const ofItem = (item: Item): string =>
  [
    item.kind,
    item.id.value,
    ofPlace(item.at?.value),
    ofHeight(item.altitude),
    ofHeight(item.climbTo),
    ofNumber(item.elevation),
    ofNumber(item.hold),
    ofTerms(item.leg),
    `${ofShape(item.area?.inside)} ${ofHeight(item.area?.from)} ${ofHeight(item.area?.to)} ${ofNumber(item.area?.lasts)}`,
    ...rareParts(item),
  ].join('|');

/**
 * Digest of what the crew's statements are made for: the route, the window, the aircraft, and the editions of the data
 * behind them. Statements are not in it, nor spelling, order of keys, comments or line breaks.
 */
export const planDigest = defineFact({
  name: 'plan digest',
  derive: (plan: Plan, { world }): string =>
    digestOf([
      `window ${plan.window?.from?.value.at ?? '-'} ${plan.window?.until?.value.at ?? '-'}`,
      `purpose ${plan.purpose?.value ?? '-'} ${plan.country?.value ?? '-'} ${plan.state?.value ?? '-'}`,
      `aircraft ${plan.aircraft?.value ?? '-'}`,
      `take-off ${ofPlace(plan.site.takeOff?.at?.value)} ${ofNumber(plan.site.takeOff?.elevation)}`,
      `pilot ${String(typeof plan.crew.pilot?.stands?.value === 'object' ? ofPlace(plan.crew.pilot.stands.value) : (plan.crew.pilot?.stands?.value ?? '-'))}`,
      ...plan.items.map(ofItem),
      `lost-link ${ofHeight(plan.lostLink?.climbTo)} ${ofLostLink(plan.lostLink)}`,
      ...world.data.filter(({ passing }) => passing !== true).map((source) => `data ${source.name} ${source.edition}`),
    ]),
});
