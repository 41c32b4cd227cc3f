import { patternPoints } from '../facts/pattern.ts';
import { routePlaceOf } from '../facts/route-order.ts';
import type { Camera } from '../plan/camera.ts';
import type { Amount, AreaShape, Item, LegTerms, WrittenHeight } from '../plan/model.ts';
import type { CorridorText, SurveyText } from '../plan/pattern.ts';
import type { LonLat } from '../units/frames.ts';
import { sayNumber } from '../units/say.ts';
import type { Edit, Fix } from './finding.ts';
import type { RuleTools } from './rule.ts';
import { inPlainText } from './words.ts';

type Entry = readonly [key: string, value: string | undefined];

/** `{ a: 1, b: 2 }` of the entries that have a value. */
const group = (entries: readonly Entry[]): string =>
  `{ ${entries.flatMap(([key, value]) => (value === undefined ? [] : [`${key}: ${value}`])).join(', ')} }`;

const sayPlace = ({ lat, lon }: LonLat): string =>
  group([
    ['lat', sayNumber(lat, 9)],
    ['lon', sayNumber(lon, 9)],
  ]);

const sayAmount = (amount: Amount<number> | undefined): string | undefined =>
  amount && `${sayNumber(amount.number, 9)} ${amount.unit}`;

const sayHeight = (height: WrittenHeight | undefined): string | undefined =>
  height && `${sayNumber(height.number, 4)} ${height.unit} ${height.datum}`;

const saySpeed = (terms: LegTerms | undefined): string | undefined => {
  const speed = sayAmount(terms?.speed);
  return speed === undefined || terms?.speedIs === undefined ? speed : `${speed} ${terms.speedIs}`;
};

const sayFollows = (terms: LegTerms | undefined): string | undefined => {
  const { follows } = terms ?? {};
  return follows && `${sayHeight(follows.height)} within ${sayNumber(follows.within, 4)} m`;
};

const sayLeg = (terms: LegTerms | undefined): string | undefined => {
  const entries: readonly Entry[] = [
    ['speed', saySpeed(terms)],
    ['follows', sayFollows(terms)],
  ];
  return entries.some(([, value]) => value !== undefined) ? group(entries) : undefined;
};

const sayOutline = (outline: AreaShape | undefined): string | undefined => {
  if (outline === undefined) return undefined;
  if (outline.kind === 'polygon') {
    return group([['polygon', `[${outline.ring.map((corner) => sayPlace(corner.value)).join(', ')}]`]]);
  }
  return group([
    ['circle', sayAmount(outline.radius)],
    ['around', sayPlace(outline.around.value)],
  ]);
};

const sayCamera = (camera: Camera | undefined): string | undefined => {
  if (camera === undefined) return undefined;
  const { imageAcross, imageAlong } = camera;
  const image: readonly Entry[] = [
    ['across', imageAcross && String(imageAcross.value)],
    ['along', imageAlong && String(imageAlong.value)],
  ];
  return group([
    [
      'sensor',
      group([
        ['across', sayAmount(camera.sensorAcross)],
        ['along', sayAmount(camera.sensorAlong)],
      ]),
    ],
    ['image', imageAcross === undefined && imageAlong === undefined ? undefined : group(image)],
    ['focal-length', sayAmount(camera.focalLength)],
    ['shutter', sayAmount(camera.shutter)],
    ['stops', sayAmount(camera.stops)],
  ]);
};

const sayOverlap = ({ overlap }: SurveyText | CorridorText): string | undefined =>
  overlap &&
  group([
    ['front', sayAmount(overlap.front)],
    ['side', sayAmount(overlap.side)],
  ]);

/** The pattern as one line of text, under another name and from a line on. Its acceptances are not in it. */
const sayPattern = (item: Item, text: SurveyText | CorridorText, name: string, firstLine: number): string => {
  const own: readonly Entry[] =
    text.kind === 'survey'
      ? [
          ['inside', sayOutline(text.outline)],
          ['course', sayAmount(text.course)],
        ]
      : [
          ['along', text.along && `[${text.along.map((corner) => sayPlace(corner.value)).join(', ')}]`],
          ['width', sayAmount(text.width)],
          ['lines', text.lines && String(text.lines.value)],
        ];
  return group([
    [text.kind, inPlainText(name)],
    ...own,
    ['altitude', sayHeight(text.altitude)],
    ['spacing', sayAmount(text.spacing)],
    ['overlap', sayOverlap(text)],
    ['ground-sampling-distance', sayAmount(text.groundSamplingDistance)],
    ['camera', sayCamera(text.camera)],
    ['first-turn', text.firstTurn?.value],
    ['first-line', String(firstLine)],
    ['last-line', text.lastLine && String(text.lastLine.value)],
    ['speed', saySpeed(text.terms)],
    ['follows', sayFollows(text.terms)],
    ['leg', sayLeg(item.leg)],
  ]);
};

const freshName = (base: string, taken: ReadonlySet<string>): string => {
  for (let n = 2; ; n++) if (!taken.has(`${base}-${n}`)) return `${base}-${n}`;
};

/** The take-off of the flight, to be written once more. */
const sayTakeOff = ({ id, at, elevation, climbTo }: Item): string =>
  group([
    ['take-off', inPlainText(id.value)],
    ['at', at && sayPlace(at.value)],
    ['elevation', sayAmount(elevation)],
    ['climb-to', sayHeight(climbTo)],
  ]);

/**
 * The fix that ends a survey or corridor after one of its lines, lands, changes the battery, takes off again and flies the
 * rest. Undefined for a circle, where the lines cannot be worked out, where no line is left on one of the two sides, or for
 * a flight that begins with no take-off.
 */
export const splitPattern = (item: Item, afterLine: number, tools: RuleTools): Fix | undefined => {
  const { pattern, insertion } = item;
  if (pattern === undefined || pattern.kind === 'circle' || item.unread) return undefined;
  const lines = tools.ask(patternPoints, item).map((point) => point.partOf?.line ?? 0);
  const { first } = routePlaceOf(item, tools).flight;
  if (!lines.includes(afterLine) || !lines.includes(afterLine + 1) || first.kind !== 'take-off') return undefined;
  const { lastLine, nextKey } = pattern;
  const ends: Edit | undefined =
    lastLine !== undefined
      ? { span: lastLine.span, text: String(afterLine) }
      : nextKey && { span: nextKey.at, text: `${nextKey.before}last-line: ${afterLine}` };
  if (ends === undefined) return undefined;
  const name = freshName(item.id.value, new Set(tools.plan.items.map(({ id }) => id.value)));
  const home = inPlainText(first.id.value);
  const added = [
    `{ land: ${home} }`,
    '{ battery: fresh }',
    sayTakeOff(first),
    sayPattern(item, pattern, name, afterLine + 1),
  ];
  const text =
    insertion.style === 'flow'
      ? added.map((entry) => `, ${entry}`).join('')
      : added.map((entry) => `${tools.plan.eol}${insertion.indent}- ${entry}`).join('');
  return {
    title: `Change the battery after line ${afterLine} of ${item.id.value}`,
    effect: 'changes-flight',
    edits: [ends, { span: insertion.after, text }],
  };
};
