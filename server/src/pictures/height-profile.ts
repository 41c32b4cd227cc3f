import { sayMetresAndFeet, sayNumber } from '../units/say.ts';
import { type LineMark, sayBreach, sign } from './breaches.ts';
import type { FlightLine, LinePoint } from './flight-line.ts';
import { ABOVE, Labels, widthOf } from './labels.ts';
import { type Markup, markup, shortly } from './markup.ts';

/** How a profile is drawn. `id` tells the pictures of a page apart. */
export interface ProfileTerms {
  readonly id: string;
  readonly title: string;
  /** The same facts in words, for those who do not see it. */
  readonly words: string;
  readonly width: number;
  readonly height: number;
  /** Numbers of the items as tables have them. */
  readonly numberOf: (place: FlightLine['places'][number]) => string;
}

const STEPS = [1, 2, 5] as const;

/** A round step of an axis: 1, 2 or 5 times a power of ten, with at most so many of them. */
export const roundStep = (span: number, most: number): number => {
  for (let power = -1; power < 9; power++) {
    for (const step of STEPS) if (span / (step * 10 ** power) <= most) return step * 10 ** power;
  }
  return span;
};

const ticksFrom = (low: number, high: number, most: number): readonly number[] => {
  const step = roundStep(high - low, most);
  const ticks: number[] = [];
  for (let i = Math.ceil(low / step - 1e-9); i * step <= high + 1e-9 * step && ticks.length <= most + 1; i++)
    ticks.push(i * step);
  return ticks;
};

interface Frame {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  x(along: number): number;
  y(altitude: number): number;
}

const frameOf = (line: FlightLine, { width, height }: ProfileTerms, marks: readonly LineMark[]): Frame => {
  const altitudes = [
    ...[...line.ground, ...line.craft, ...(line.limit?.lines ?? [])].flatMap((points) =>
      points.map(({ altitude }) => altitude),
    ),
    ...line.uprights.flatMap(({ low, high }) => [low, high]),
    ...marks.flatMap(({ altitude }) => altitude ?? []),
  ];
  const low = altitudes.reduce((one, other) => Math.min(one, other), Number.POSITIVE_INFINITY);
  const high = altitudes.reduce((one, other) => Math.max(one, other), Number.NEGATIVE_INFINITY);
  const known = low <= high;
  const room = known ? Math.max(10, (high - low) * 1.12) : 100;
  const base = known ? low - room * 0.06 : 0;
  const [left, right, top, bottom] = [58, width - 58, 34, height - 58];
  return {
    left,
    right,
    top,
    bottom,
    x: (along) => left + ((right - left) * along) / Math.max(1, line.length),
    y: (altitude) => bottom - ((bottom - top) * (altitude - base)) / room,
  };
};

const path = (points: readonly LinePoint[], { x, y }: Frame): string =>
  points
    .map(({ along, altitude }, i) => `${i === 0 ? 'M' : 'L'}${sayNumber(x(along))} ${sayNumber(y(altitude))}`)
    .join('');

const ground = (line: FlightLine, frame: Frame, id: string): Markup =>
  markup`<g stroke="currentColor">${line.ground.map((points) => {
    const [first, last] = [points[0], points[points.length - 1]];
    if (first === undefined || last === undefined) return undefined;
    const around = `${path(points, frame)}V${sayNumber(frame.bottom)}H${sayNumber(frame.x(first.along))}Z`;
    return markup`<path d="${around}" fill="url(#${id}-ground)" stroke="none"/><path d="${path(points, frame)}" fill="none" stroke-width="1.4"/>`;
  })}</g>`;

/** Stretches without data about the ground, in words. */
const holes = (line: FlightLine, { x, top, bottom }: Frame): Markup => {
  const edges = line.ground.flatMap((points) => {
    const [first, last] = [points[0], points[points.length - 1]];
    return first === undefined || last === undefined ? [] : [{ from: first.along, to: last.along }];
  });
  const open: { readonly from: number; readonly to: number }[] = [];
  let at = 0;
  for (const { from, to } of [...edges, { from: line.length, to: line.length }]) {
    if (from > at + Math.max(1, line.length / 500)) open.push({ from: at, to: from });
    at = Math.max(at, to);
  }
  return markup`${open.map(
    ({ from, to }) =>
      markup`<rect x="${x(from)}" y="${top}" width="${x(to) - x(from)}" height="${bottom - top}" fill="none" stroke="currentColor" stroke-dasharray="1 3"/>${
        x(to) - x(from) > 90
          ? markup`<text x="${(x(from) + x(to)) / 2}" y="${bottom - 6}" text-anchor="middle" font-size="11">no terrain data</text>`
          : undefined
      }`,
  )}`;
};

const axes = (line: FlightLine, frame: Frame): Markup => {
  const { left, right, top, bottom, x, y } = frame;
  const perMetre = Math.max(1e-9, y(0) - y(1));
  const low = (bottom - y(0)) / -perMetre;
  const high = low + (bottom - top) / perMetre;
  const { takeOff } = line;
  const most = Math.max(2, Math.floor((bottom - top) / 26));
  const tick = (altitude: number, said: string, side: 'left' | 'right'): Markup =>
    side === 'left'
      ? markup`<line x1="${left}" x2="${right}" y1="${y(altitude)}" y2="${y(altitude)}" stroke="currentColor" stroke-width="0.4" stroke-opacity="0.35"/><text x="${left - 6}" y="${y(altitude) + 4}" text-anchor="end">${said}</text>`
      : markup`<line x1="${right}" x2="${right + 4}" y1="${y(altitude)}" y2="${y(altitude)}" stroke="currentColor"/><text x="${right + 7}" y="${y(altitude) + 4}">${said}</text>`;
  const over =
    takeOff === undefined
      ? []
      : ticksFrom(low - takeOff, high - takeOff, most).map((t) => tick(t + takeOff, sayNumber(t), 'left'));
  const sea = ticksFrom(low, high, most).map((t) => tick(t, sayNumber(t), 'right'));
  const along = ticksFrom(0, line.length, Math.max(2, Math.floor((right - left) / 90)));
  const inKilometres = line.length >= 2000;
  return markup`<g font-size="11">${over}${sea}${along.map(
    (t) =>
      markup`<line x1="${x(t)}" x2="${x(t)}" y1="${bottom}" y2="${bottom + 4}" stroke="currentColor"/><text x="${x(t)}" y="${bottom + 15}" text-anchor="middle">${x(t) > right - 22 ? '' : sayNumber(inKilometres ? t / 1000 : t, 1)}</text>`,
  )}<text x="${right}" y="${bottom + 15}" text-anchor="end" dx="50">${inKilometres ? 'km' : 'm'} flown</text>${
    takeOff === undefined ? undefined : markup`<text x="4" y="14">m above take-off</text>`
  }<text x="${right + 54}" y="14" text-anchor="end">m above sea</text></g><path d="M${left} ${top}V${bottom}H${right}V${top}" fill="none" stroke="currentColor"/>`;
};

const uprights = (line: FlightLine, { x, y }: Frame, id: string): Markup =>
  markup`${line.uprights.map(({ kind, along, low, high }) =>
    kind === 'column'
      ? markup`<line x1="${x(along)}" x2="${x(along)}" y1="${y(low)}" y2="${y(high)}" stroke="currentColor" stroke-width="2.2"/>`
      : markup`<rect x="${x(along) - 6}" y="${y(high)}" width="12" height="${Math.max(2, y(low) - y(high))}" fill="url(#${id}-hand)" stroke="currentColor" stroke-width="1.4"/>`,
  )}`;

/** More places than these would be a grey bar: of more, every so many are drawn. */
const MOST_PLACES = 120;

/** Items on the axis below: a number, and the name where there is room for it. */
const places = (line: FlightLine, terms: ProfileTerms, { x, y, bottom }: Frame): Markup => {
  const labels = new Labels({ x: 0, y: bottom + 18, width: terms.width, height: 40 });
  const every = Math.ceil(line.places.length / MOST_PLACES);
  const shown = line.places.filter((_, i) => i % every === 0 || i === line.places.length - 1);
  return markup`<g font-size="11">${shown.map((place) => {
    const at = { x: x(place.along), y: bottom + 26 };
    const text = `${terms.numberOf(place)} ${shortly(place.item.id.value, 18)}`.trim();
    const half = widthOf(text, 11) / 2;
    const inside = Math.min(Math.max(at.x, half + 2), terms.width - half - 2);
    const said = labels.row(inside, text, 11, [bottom + 20, bottom + 32, bottom + 44]);
    return markup`<line x1="${at.x}" x2="${at.x}" y1="${place.altitude === undefined ? bottom - 8 : y(place.altitude)}" y2="${bottom + 5}" stroke="currentColor" stroke-width="0.7" stroke-dasharray="2 2"/>${
      place.altitude === undefined
        ? undefined
        : markup`<circle cx="${at.x}" cy="${y(place.altitude)}" r="3.2" class="paper" fill="#fff" stroke="currentColor" stroke-width="1.4"/>`
    }${said}`;
  })}</g>`;
};

/** The flight's altitude at a distance along it, from the drawn line. */
const altitudeAt = (line: FlightLine, along: number): number | undefined => {
  for (const points of line.craft) {
    for (let i = 1; i < points.length; i++) {
      const [from, to] = [points[i - 1], points[i]];
      if (from === undefined || to === undefined || along < from.along || along > to.along) continue;
      const share = to.along > from.along ? (along - from.along) / (to.along - from.along) : 0;
      return from.altitude + (to.altitude - from.altitude) * share;
    }
  }
  return undefined;
};

const part = (line: FlightLine, from: number, to: number): readonly LinePoint[] => {
  const within = line.craft.flat().filter(({ along }) => along > from && along < to);
  const end = (along: number): readonly LinePoint[] => {
    const altitude = altitudeAt(line, along);
    return altitude === undefined ? [] : [{ along, altitude }];
  };
  return [...end(from), ...within, ...end(to)];
};

/** More signs than these would hide the flight; the table has all. */
const MOST_MARKS = 24;

const breaches = (line: FlightLine, marks: readonly LineMark[], frame: Frame, labels: Labels): Markup => {
  const drawn = marks.slice(0, MOST_MARKS).map((mark) => ({
    mark,
    at: { x: frame.x(mark.along), y: frame.y(mark.altitude ?? altitudeAt(line, mark.along) ?? 0) },
  }));
  for (const { at } of drawn) labels.take({ x: at.x - 7, y: at.y - 7, width: 14, height: 14 });
  return markup`${drawn
    .map(
      ({ mark: { from, to } }) =>
        to > from &&
        markup`<path class="breach-line" d="${path(part(line, from, to), frame)}" fill="none" stroke="#a3000b" stroke-width="7" stroke-dasharray="2.5 2"/>`,
    )
    .map((one) =>
      one === false ? undefined : one,
    )}${drawn.map(({ mark, at }) => sign(mark.breach, at.x, at.y))}${drawn.map(({ mark, at }) =>
    labels.beside(at, sayBreach(mark.breach), 12, 'bold'),
  )}`;
};

/** No label lies on a line. */
const keepFree = (points: readonly LinePoint[], { x, y }: Frame, labels: Labels): void => {
  points.forEach((to, i) => {
    const from = points[i - 1] ?? to;
    const [dx, dy] = [x(to.along) - x(from.along), y(to.altitude) - y(from.altitude)];
    const steps = Math.ceil(Math.hypot(dx, dy) / 8);
    for (let step = 0; step < steps; step++) {
      const [left, top] = [x(from.along) + (dx * step) / steps, y(from.altitude) + (dy * step) / steps];
      labels.take({ x: left, y: top - 1.5, width: 8, height: 3 });
    }
  });
};

const middleOf = (lines: readonly (readonly LinePoint[])[]): LinePoint | undefined => {
  const points = lines.flat();
  const [first, last] = [points[0], points[points.length - 1]];
  if (first === undefined || last === undefined) return undefined;
  const half = (first.along + last.along) / 2;
  const after = points.findIndex(({ along }) => along >= half);
  const [from, to] = [points[after - 1] ?? first, points[after] ?? last];
  const share = to.along > from.along ? (half - from.along) / (to.along - from.along) : 0;
  return { along: half, altitude: from.altitude + (to.altitude - from.altitude) * share };
};

/**
 * Ground, flight and height limit over the distance flown, with what was found. Ground is hatched, the flight a thick
 * line, the limit dashed, and each has its word: nothing is told by colour alone.
 */
export const heightProfile = (line: FlightLine, marks: readonly LineMark[], terms: ProfileTerms): Markup => {
  const { id, title, words, width, height } = terms;
  const frame = frameOf(line, terms, marks);
  const labels = new Labels({ x: frame.left, y: 18, width: frame.right - frame.left, height: frame.bottom - 18 });
  const steep = (frame.y(0) - frame.y(1)) / Math.max(1e-9, frame.x(1) - frame.x(0));
  for (const points of [...line.craft, ...(line.limit?.lines ?? [])]) keepFree(points, frame, labels);
  const marked = breaches(line, marks, frame, labels);
  const name = (point: LinePoint | undefined, text: string): Markup | undefined =>
    point && labels.beside({ x: frame.x(point.along), y: frame.y(point.altitude) }, text, 11, 'normal', ABOVE);
  const { limit } = line;
  return markup`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-labelledby="${id}-title ${id}-words" font-family="sans-serif" font-size="12" fill="currentColor"><title id="${id}-title">${title}</title><desc id="${id}-words">${words}</desc><defs><pattern id="${id}-ground" width="6" height="6" patternUnits="userSpaceOnUse"><path d="M0 6L6 0" stroke="currentColor" stroke-width="0.7" stroke-opacity="0.6"/></pattern><pattern id="${id}-hand" width="4" height="4" patternUnits="userSpaceOnUse"><path d="M0 2H4" stroke="currentColor" stroke-width="0.8"/></pattern></defs>${axes(line, frame)}${ground(line, frame, id)}${holes(line, frame)}<g fill="none" stroke="currentColor" stroke-dasharray="7 4" stroke-width="1.2">${limit?.lines.map((points) => markup`<path d="${path(points, frame)}"/>`)}</g>${uprights(line, frame, id)}<g fill="none" stroke="currentColor" stroke-width="2.6" stroke-linejoin="round">${line.craft.map((points) => markup`<path d="${path(points, frame)}"/>`)}</g>${places(line, terms, frame)}${marked}${
    limit && name(middleOf(limit.lines), `limit ${sayMetresAndFeet(limit.limit.value)} above the ground`)
  }${
    line.craft.length > 0
      ? name(middleOf(line.craft), 'flight')
      : markup`<text x="${(frame.left + frame.right) / 2}" y="${(frame.top + frame.bottom) / 2}" text-anchor="middle" class="halo" stroke="#fff" stroke-width="3" paint-order="stroke">flight not drawn: its height is not known</text>`
  }${name(middleOf(line.ground), 'ground')}<text x="${width / 2}" y="14" text-anchor="middle" font-size="11">${
    Number.isFinite(steep) && line.length > 0
      ? `heights drawn ${sayNumber(steep, steep < 10 ? 1 : 0)} times as steep as they are`
      : ''
  }</text></svg>`;
};
