import type { LegPath } from '../geo/geodesy.ts';
import { LENGTH_UNITS } from '../units/convert.ts';
import { sayNumber } from '../units/say.ts';
import { type Breach, isPlaced, sayBreach, sign } from './breaches.ts';
import { roundStep } from './height-profile.ts';
import { Labels } from './labels.ts';
import { ALL_SPOTS, frameAround, type MapFrame, pathOf, ringsOf, type Spot, spotsInside } from './map-frame.ts';
import type { MapScene, NamedShape } from './map-scene.ts';
import { type Markup, markup, shortly } from './markup.ts';

export interface MapTerms {
  readonly id: string;
  readonly title: string;
  readonly words: string;
  readonly width: number;
  readonly height: number;
  /** Numbers of the items as tables have them. */
  readonly numberOf: (item: MapScene['items'][number]['item']) => string;
}

interface Canvas {
  readonly frame: MapFrame;
  readonly labels: Labels;
  readonly id: string;
}

const centre = (spots: readonly Spot[]): Spot => ({
  x: spots.reduce((sum, { x }) => sum + x, 0) / Math.max(1, spots.length),
  y: spots.reduce((sum, { y }) => sum + y, 0) / Math.max(1, spots.length),
});

/** The first of some texts for which there is room inside, else the last one beside the middle. */
const nameOf = (inside: readonly Spot[], middle: Spot, texts: readonly string[], labels: Labels): Markup => {
  const size = 10.5;
  for (const text of texts) {
    const over = labels.over(inside, text, size);
    if (over.markup !== '') return over;
  }
  return labels.beside(middle, texts[texts.length - 1] ?? '', size);
};

/** Ground with a hatch of its own and a name; nothing where it lies outside of the map. */
const ground = (
  { name, said, shape }: NamedShape,
  hatch: string,
  stroke: string,
  { frame, labels, id }: Canvas,
): { readonly drawn: Markup; readonly name: Markup } | undefined => {
  const rings = ringsOf(shape, frame);
  const inside = spotsInside(rings, frame);
  const onMap = rings.some((ring) =>
    ring.some(({ x, y }) => x >= 0 && y >= 0 && x <= frame.width && y <= frame.height),
  );
  if (inside.length === 0 && !onMap) return undefined;
  const isAll = inside.length === ALL_SPOTS && !onMap;
  const text = `${shortly(name)}: ${said}${isAll ? ' (all of this map)' : ''}`;
  return {
    drawn: markup`<path d="${rings.map((ring) => pathOf(ring, 'Z')).join('')}" fill="${isAll ? 'none' : `url(#${id}-${hatch})`}" fill-rule="evenodd" stroke="currentColor" stroke-width="1.3" stroke-dasharray="${stroke}"/>`,
    name: nameOf(inside, centre(rings[0] ?? []), [text, shortly(name)], labels),
  };
};

const HATCHES: Readonly<Record<string, readonly [number, string]>> = {
  zone: [12, 'M0 0L12 12'],
  people: [9, 'M4 4h1.4'],
  hand: [5, 'M0 2.5H5'],
  obstacle: [4, 'M0 0L4 4M4 0L0 4'],
};

const hatches = (id: string): Markup =>
  markup`${Object.entries(HATCHES).map(
    ([name, [size, path]]) =>
      markup`<pattern id="${id}-${name}" width="${size}" height="${size}" patternUnits="userSpaceOnUse"><path d="${path}" stroke="currentColor" stroke-width="${name === 'people' ? 1.4 : 0.6}" stroke-opacity="0.4"/></pattern>`,
  )}`;

/** A geodesic is drawn straight between places that lie this far apart at most, in metres. */
const STRAIGHT = 2000;
const MOST_STEPS = 24;

const spotsOf = ({ from, to, length, at }: LegPath, frame: MapFrame): readonly Spot[] => {
  const steps = Math.min(MOST_STEPS, Math.ceil(length / STRAIGHT));
  const between = Array.from({ length: Math.max(0, steps - 1) }, (_, i) => at((length * (i + 1)) / steps));
  return [from, ...between, to].map((place) => frame.spot(place));
};

/** A line for each leg with an arrow at its middle, where that has room. */
const legs = (scene: MapScene, { frame, labels }: Canvas): Markup =>
  markup`${scene.legs.map(({ path }) => {
    const spots = spotsOf(path, frame);
    const [from, to] = [spots[0], spots[spots.length - 1]];
    if (from === undefined || to === undefined) return undefined;
    const [dx, dy] = [to.x - from.x, to.y - from.y];
    const long = Math.hypot(dx, dy);
    for (let at = 12; at < long - 12; at += 14) {
      labels.take({ x: from.x + (dx * at) / long - 3, y: from.y + (dy * at) / long - 3, width: 6, height: 6 });
    }
    const turn = sayNumber((Math.atan2(dy, dx) * 180) / Math.PI);
    const tip = long < 26 ? undefined : frame.spot(path.at(path.length / 2));
    const arrow =
      tip &&
      markup`<path d="M6 0L-4 -4.5V4.5Z" fill="currentColor" stroke="none" transform="translate(${tip.x} ${tip.y}) rotate(${turn})"/>`;
    return markup`<path d="${pathOf(spots)}"/>${arrow}`;
  })}`;

const waysHome = (scene: MapScene, { frame }: Canvas): Markup =>
  markup`<g fill="none" stroke="currentColor" stroke-width="1" stroke-dasharray="1 4" stroke-linecap="round">${scene.waysHome.map(
    ({ from, to }) => markup`<path d="${pathOf([frame.spot(from), frame.spot(to)])}"/>`,
  )}</g>`;

const sight = (scene: MapScene, canvas: Canvas): Markup => {
  const { range } = scene.sight ?? {};
  if (range === undefined) return markup``;
  return markup`<g fill="none" stroke="currentColor" stroke-width="1" stroke-dasharray="10 3 2 3">${scene.watchers.map(
    ({ at }) => {
      const { x, y } = canvas.frame.spot(at);
      return markup`<circle cx="${x}" cy="${y}" r="${range * canvas.frame.scale}"/>`;
    },
  )}</g>`;
};

const named = (at: Spot, drawn: Markup, text: string, { labels }: Canvas, weight = 'normal'): Markup => {
  labels.take({ x: at.x - 6, y: at.y - 6, width: 12, height: 12 });
  return markup`${drawn}${labels.beside(at, text, 11.5, weight)}`;
};

const ITEM_SIGNS: Readonly<Record<string, (x: number, y: number) => Markup>> = {
  'take-off': (x, y) =>
    markup`<path d="M${x} ${y - 6}l6 11h-12z" class="paper" fill="#fff" stroke="currentColor" stroke-width="1.6"/>`,
  land: (x, y) =>
    markup`<path d="M${x} ${y + 6}l6 -11h-12z" class="paper" fill="#fff" stroke="currentColor" stroke-width="1.6"/>`,
};

/** More items than these would be a blot: of more, every so many are drawn. */
const MOST_ITEMS = 400;

const items = (scene: MapScene, canvas: Canvas, terms: MapTerms): Markup => {
  const every = Math.ceil(scene.items.length / MOST_ITEMS);
  const drawn = scene.items
    .filter((_, i) => i % every === 0 || i === scene.items.length - 1)
    .map(({ item, at }) => {
      const spot = canvas.frame.spot(at);
      canvas.labels.take({ x: spot.x - 6, y: spot.y - 6, width: 12, height: 12 });
      return { item, spot };
    });
  return markup`${drawn.map(({ item, spot }) => {
    const drawSign =
      ITEM_SIGNS[item.kind] ??
      ((x: number, y: number) =>
        markup`<circle cx="${x}" cy="${y}" r="4" class="paper" fill="#fff" stroke="currentColor" stroke-width="1.8"/>`);
    const text = `${terms.numberOf(item)} ${shortly(item.id.value)}`.trim();
    return markup`${drawSign(spot.x, spot.y)}${canvas.labels.beside(spot, text, 11.5)}`;
  })}`;
};

/** Below the map, for scale and north. */
const STRIP = 44;

/** Scale in both units and the arrow to true north. */
const scaleAndNorth = ({ scale, width, height }: MapFrame): Markup => {
  const low = height + STRIP;
  const bar = (metres: number, said: string, y: number): Markup => {
    const long = metres * scale;
    return markup`<path d="M16 ${y - 4}v8m0 -4h${long}m0 -4v8" fill="none" stroke="currentColor" stroke-width="1.6"/><text x="${22 + long}" y="${y + 4}" font-size="11">${said}</text>`;
  };
  const most = (width * 0.3) / scale;
  const long = roundStep(most, 1) > most ? roundStep(most / 2.5, 1) : roundStep(most, 1);
  const feet = roundStep(most / 2.5 / LENGTH_UNITS.ft, 1);
  return markup`${bar(long, long >= 1000 ? `${sayNumber(long / 1000)} km` : `${sayNumber(long)} m`, low - 30)}${bar(feet * LENGTH_UNITS.ft, `${sayNumber(feet)} ft`, low - 12)}<g transform="translate(${width - 20} ${low - 12})"><path d="M0 -26L7 6L0 0L-7 6Z" class="paper" fill="#fff" stroke="currentColor" stroke-width="1.4"/><text x="-14" y="-4" text-anchor="end" font-size="11">true north</text></g>`;
};

/** The stretches of legs that are beyond a limit, as stripes over the leg. */
const stretches = (found: readonly Breach[], scene: MapScene, { frame }: Canvas): Markup => {
  const byName = new Map(scene.legs.map(({ leg, path }) => [`leg ${leg.from.id.value} to ${leg.to.id.value}`, path]));
  return markup`<g class="breach-line" fill="none" stroke="#a3000b" stroke-width="7" stroke-dasharray="2.5 2">${found
    .filter(({ state }) => state === 'found')
    .slice(0, MOST_SIGNS)
    .flatMap(({ finding: { subject, intervals = [] } }) => {
      const path = byName.get(subject);
      if (path === undefined) return [];
      return intervals.map(({ fromAlongM, toAlongM }) => {
        const spots = [0, 0.25, 0.5, 0.75, 1].map((part) =>
          frame.spot(path.at(fromAlongM + (toAlongM - fromAlongM) * part)),
        );
        return markup`<path d="${pathOf(spots)}"/>`;
      });
    })}</g>`;
};

/** More signs than these would hide the flight; the table has all. */
const MOST_SIGNS = 40;

const breaches = (found: readonly Breach[], canvas: Canvas): Markup => {
  const drawn = found
    .filter(isPlaced)
    .slice(0, MOST_SIGNS)
    .map((breach) => ({ breach, spot: canvas.frame.spot(breach.finding.place.at) }));
  for (const { spot } of drawn) canvas.labels.take({ x: spot.x - 8, y: spot.y - 8, width: 16, height: 16 });
  return markup`${drawn.map(({ breach, spot }) => sign(breach, spot.x, spot.y))}${drawn.map(({ breach, spot }) =>
    canvas.labels.beside(spot, sayBreach(breach), 12, 'bold'),
  )}`;
};

/** The map with all that is near the flight, each thing by shape, hatch and word. Undefined where no place is known. */
export const flightMap = (scene: MapScene, found: readonly Breach[], terms: MapTerms): Markup | undefined => {
  const { id, title, words } = terms;
  const shown = [
    ...scene.items.map(({ at }) => at),
    ...scene.legs.flatMap(({ path }) => [path.from, path.to]),
    ...scene.watchers.map(({ at }) => at),
    ...scene.areas.flatMap(({ shape }) => (shape.kind === 'circle' ? [shape.centre] : shape.polygons.flat(2))),
  ];
  if (shown.length === 0) return undefined;
  const frame = frameAround(shown, terms.width, terms.height);
  const { width, height } = frame;
  const labels = new Labels({ x: 4, y: 4, width: width - 8, height: height - 8 });
  const canvas: Canvas = { frame, labels, id };
  const lines = legs(scene, canvas);
  const signs = items(scene, canvas, terms);
  const marked = breaches(found, canvas);
  const watchers = scene.watchers.map(({ name, at }) => {
    const { x, y } = frame.spot(at);
    return named(
      { x, y },
      markup`<path d="M${x - 5} ${y}h10m-5 -5v10" fill="none" stroke="currentColor" stroke-width="1.8"/>`,
      name,
      canvas,
    );
  });
  const noReturn = scene.noReturn.map(({ name, at }) => {
    const { x, y } = frame.spot(at);
    const diamond = markup`<path d="M${x} ${y - 7}l7 7l-7 7l-7 -7z" class="paper" fill="#fff" stroke="currentColor" stroke-width="2"/>`;
    return named({ x, y }, diamond, name, canvas, 'bold');
  });
  const hand = scene.areas.flatMap((one) => ground(one, 'hand', '', canvas) ?? []);
  const people = scene.people.flatMap((one) => ground(one, 'people', '1 3', canvas) ?? []);
  const zones = scene.zones.flatMap((one) => ground(one, 'zone', '9 4', canvas) ?? []);
  const obstacles = scene.obstacles.flatMap((one) => {
    const { x, y } = frame.spot(one.at);
    if (x < 0 || y < 0 || x > width || y > height) return [];
    const shape = ringsOf(one.shape, frame);
    const mast = markup`<path d="${shape.map((ring) => pathOf(ring, 'Z')).join('')}" fill="url(#${id}-obstacle)" stroke="currentColor"/><path d="M${x} ${y - 9}l4.5 9h-9z" fill="currentColor" stroke="none"/>`;
    return [named({ x, y }, mast, `${shortly(one.name)}, ${one.said}`, canvas)];
  });
  return markup`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height + STRIP}" width="${width}" height="${height + STRIP}" role="img" aria-labelledby="${id}-title ${id}-words" font-family="sans-serif" font-size="12" fill="currentColor"><title id="${id}-title">${title}</title><desc id="${id}-words">${words}</desc><defs>${hatches(id)}<clipPath id="${id}-edge"><rect width="${width}" height="${height}"/></clipPath></defs><g clip-path="url(#${id}-edge)">${[...zones, ...people, ...hand].map(({ drawn }) => drawn)}${sight(scene, canvas)}${waysHome(scene, canvas)}</g>${[...zones, ...people, ...hand].map(({ name }) => name)}${obstacles}<g fill="none" stroke="currentColor" stroke-width="2.2">${lines}</g>${stretches(found, scene, canvas)}${watchers}${signs}${noReturn}${marked}${scaleAndNorth(frame)}<rect x="0.5" y="0.5" width="${width - 1}" height="${height - 1}" fill="none" stroke="currentColor"/></svg>`;
};
