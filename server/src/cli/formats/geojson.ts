import { areaShape } from '../../facts/area-shape.ts';
import { flownLegs } from '../../facts/flown-legs.ts';
import { itemPlace } from '../../facts/item-place.ts';
import { orLacking } from '../../facts/lacking.ts';
import { legAltitudes } from '../../facts/leg-altitudes.ts';
import { pathOfLeg } from '../../facts/leg-path.ts';
import { boxAround, growBox } from '../../geo/box.ts';
import type { Item, Leg } from '../../plan/model.ts';
import type { Finding } from '../../rulebook/finding.ts';
import type { RuleTools } from '../../rulebook/rule.ts';
import type { LonLat } from '../../units/frames.ts';
import { isMissing } from '../../world/world.ts';
import type { Zone } from '../../world/zone.ts';
import { type Checked, type Run, rangeOf } from '../checked.ts';
import { lineParts, positionOf, shapeParts } from './geojson-rings.ts';
import { jsonLine, round } from './json.ts';
import { gapsByReason, nearestTo, sayGap } from './told.ts';

/** A geodesic is drawn straight between points that lie this far apart at most, in metres. */
const STEP = 2_000;
/** Zones are drawn that come this near to the flight, in metres. */
const AROUND = 2_000;

type Geometry = { readonly type: string; readonly coordinates: unknown } | null;

interface Feature {
  readonly type: 'Feature';
  readonly geometry: Geometry;
  readonly properties: Readonly<Record<string, unknown>>;
}

const feature = (geometry: Geometry, properties: Readonly<Record<string, unknown>>): Feature => ({
  type: 'Feature',
  geometry,
  properties,
});

const pointAt = (at: LonLat): Geometry => ({ type: 'Point', coordinates: positionOf(at) });

const known = <T>(derive: () => T): T | undefined => {
  const answer = orLacking(derive);
  return 'known' in answer ? answer.known : undefined;
};

/** Height in metres above the sea where it can be worked out. RFC 7946's third number is above the ellipsoid: not used. */
const altitudesOf = (leg: Leg, tools: RuleTools): Readonly<Record<string, number>> => {
  const along = known(() => tools.ask(legAltitudes, leg));
  if (along === undefined) return {};
  if (along.kind === 'follows') return { followsAboveGroundM: round(along.height, 2) };
  return { startAmslM: round(along.start.aboveSea, 2), endAmslM: round(along.end.aboveSea, 2) };
};

const lineOf = (one: { readonly at: Finding['at'] }, lines: Checked['lines']): number =>
  rangeOf(one.at, lines).start.line;

const legFeature = (leg: Leg, flight: number, tools: RuleTools): Feature => {
  const path = known(() => tools.ask(pathOfLeg, leg));
  const name = `${leg.from.id.value} to ${leg.to.id.value}`;
  const properties = { layer: 'leg', name: `leg ${name}`, flight, ...altitudesOf(leg, tools) };
  if (path === undefined) return feature(null, properties);
  const steps = Math.max(1, Math.ceil(path.length / STEP));
  const parts = lineParts(Array.from({ length: steps + 1 }, (_, i) => path.at((path.length * i) / steps)));
  const [only] = parts;
  if (only === undefined) return feature(pointAt(path.from), properties);
  const geometry =
    parts.length === 1 ? { type: 'LineString', coordinates: only } : { type: 'MultiLineString', coordinates: parts };
  return feature(geometry, { ...properties, lengthM: round(path.length, 1) });
};

const itemFeatures = (item: Item, lines: Checked['lines'], tools: RuleTools): readonly Feature[] => {
  const at = known(() => tools.ask(itemPlace, item));
  const properties = {
    layer: 'item',
    name: `${item.kind} ${item.id.value}`,
    line: lineOf({ at: item.id.span }, lines),
  };
  const outline = item.kind === 'area' ? known(() => tools.ask(areaShape, item)) : undefined;
  return [
    feature(at === undefined ? null : pointAt(at), properties),
    ...(outline === undefined
      ? []
      : [
          feature(
            { type: 'MultiPolygon', coordinates: shapeParts(outline.shape) },
            { ...properties, layer: 'area', name: `outline of ${item.id.value}` },
          ),
        ]),
  ];
};

const edge = (limit: Zone['floor']): string | Readonly<Record<string, number>> =>
  typeof limit === 'string'
    ? limit
    : Object.fromEntries(Object.entries(limit).map(([frame, value]) => [`${frame}M`, round(value, 2)]));

const zoneFeature = (zone: Zone): Feature =>
  feature(
    { type: 'MultiPolygon', coordinates: shapeParts(zone.shape) },
    {
      layer: 'zone',
      name: `zone ${zone.name}`,
      id: zone.id,
      kind: zone.kind,
      ...(zone.airspaceClass === undefined ? {} : { airspaceClass: zone.airspaceClass }),
      floor: edge(zone.floor),
      ceiling: edge(zone.ceiling),
    },
  );

/** Zones near the flight. Cells of grids are no zones: they say up to which height something is granted. */
const zonesNear = (places: readonly LonLat[], tools: RuleTools): readonly Zone[] => {
  const box = boxAround(places);
  const { airspace } = tools.world;
  if (box === undefined || isMissing(airspace)) return [];
  return airspace.zonesIn(growBox(box, AROUND)).filter(({ kind }) => kind !== 'cell');
};

const placeProperties = ({ place }: Finding): Readonly<Record<string, number>> => ({
  ...(place?.alongM === undefined ? {} : { alongM: round(place.alongM, 1) }),
  ...(place?.altitudeAmslM === undefined ? {} : { altitudeAmslM: round(place.altitudeAmslM, 2) }),
});

const findingFeature = (finding: Finding, state: string, lines: Checked['lines']): Feature =>
  feature(finding.place === undefined ? null : pointAt(finding.place.at), {
    layer: 'finding',
    name: `${finding.level}: ${finding.subject}`,
    state,
    level: finding.level,
    rule: finding.rule,
    message: finding.message,
    line: lineOf(finding, lines),
    ...placeProperties(finding),
  });

/** What a map shows of a plan, beside what was found: plain data, for the tools of a review do not outlive it. */
export interface DrawnPlan {
  readonly zones: readonly Feature[];
  readonly flight: readonly Feature[];
}

const NOTHING: DrawnPlan = { zones: [], flight: [] };

type Drawable = Pick<Checked, 'path' | 'review' | 'lines' | 'tools' | 'drawn'>;

export const drawPlan = ({ review, lines }: Pick<Checked, 'review' | 'lines'>, tools: RuleTools): DrawnPlan => {
  const { plan } = review;
  const places = plan.items.flatMap((item) => known(() => tools.ask(itemPlace, item)) ?? []);
  return {
    zones: zonesNear(places, tools).map(zoneFeature),
    flight: [
      ...plan.items.flatMap((item) => itemFeatures(item, lines, tools)),
      ...plan.flights.flatMap((flight) =>
        tools.ask(flownLegs, flight).map((leg) => legFeature(leg, flight.number, tools)),
      ),
    ],
  };
};

const gapFeatures = ({ review, lines }: Drawable, run: Run): readonly Feature[] =>
  gapsByReason(review.gaps).flatMap(([first, ...more]) => {
    if (first === undefined) return [];
    const gap = nearestTo([first, ...more]);
    return [
      feature(null, {
        layer: 'not assessed',
        name: `not assessed: ${gap.subject}`,
        level: gap.level,
        kind: gap.kind,
        message: sayGap(gap, run),
        rules: [...new Set([first, ...more].map((one) => one.rule))],
        line: lineOf(gap, lines),
      }),
    ];
  });

export interface Layers {
  readonly layers: 'zones' | 'no zones';
}

/**
 * The features of a plan. Each has a name and a layer, so that nothing is told by colour; what has no place is a feature
 * without geometry (RFC 7946, 3.2), so that a map never shows less than the report.
 */
export const planFeatures = (checked: Drawable, run: Run, { layers }: Layers): readonly Feature[] => {
  const { review, lines, tools } = checked;
  const { zones, flight } = checked.drawn ?? (tools === undefined ? NOTHING : drawPlan(checked, tools));
  const features = [
    ...(layers === 'no zones' ? [] : zones),
    ...flight,
    ...review.findings.map((finding) => findingFeature(finding, 'found', lines)),
    ...review.accepted.map(({ finding }) => findingFeature(finding, 'accepted', lines)),
    ...review.lifted.map(({ finding }) => findingFeature(finding, 'lifted', lines)),
    ...gapFeatures(checked, run),
  ];
  return features.map((one) => ({ ...one, properties: { plan: checked.path, ...one.properties } }));
};

/**
 * All plans of a run as one FeatureCollection, a feature a line; paths that could not be opened are features without
 * geometry.
 */
export const geojsonText = (run: Run): string => {
  const features = [
    ...run.checked.flatMap((checked) => planFeatures(checked, run, { layers: 'zones' })),
    ...run.unopened.map(({ path, reason }) =>
      feature(null, { plan: path, layer: 'not opened', name: `not opened: ${path}`, message: reason }),
    ),
  ];
  return `{"type":"FeatureCollection","features":[\n${features.map(jsonLine).join(',\n')}\n]}\n`;
};
