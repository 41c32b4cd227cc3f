import type { Box } from '../geo/box.ts';
import { readAmount } from '../plan/scalars/quantity.ts';
import type { Metres } from '../units/frames.ts';
import {
  type FeatureFile,
  isObject,
  type Json,
  type JsonObject,
  propertyText,
  readFeatureFile,
  Unusable,
} from './geojson-features.ts';
import { ZONE_RESTRICTIONS, type Zone, type ZoneKind } from './zone.ts';
import { grantedCell, readEdge, refuseUpsideDown } from './zone-edge.ts';
import { doubtsOf, groundOf, type PlacedShape, readShape, refuseSwapped } from './zone-shape.ts';
import { readActive } from './zone-times.ts';
import { isGeographicalZones, readGeographicalZones } from './zones-ed318.ts';
import { type ReadFeature, readFeatures, type ZonesFile } from './zones-file.ts';

export type { ZonesFile } from './zones-file.ts';

const KINDS: readonly ZoneKind[] = [
  'controlled',
  'prohibited',
  'restricted',
  'danger',
  'geographical',
  'house',
  'cell',
];
const CLASSES = ['A', 'B', 'C', 'D', 'E', 'F', 'G'] as const;

const radiusOf = ({ radius }: JsonObject): Metres | undefined => {
  const read = typeof radius === 'string' ? readAmount(radius, 'length') : undefined;
  return read?.ok === true ? read.value : undefined;
};

const shapeOf = (feature: JsonObject): PlacedShape =>
  readShape(feature.geometry, () => (isObject(feature.properties) ? radiusOf(feature.properties) : undefined));

const BARS = 'take-off and landing';

type Edges = Pick<Zone, 'floor' | 'ceiling' | 'grants'>;

const readEdges = (properties: JsonObject): Edges => {
  const floor = readEdge(properties.floor, 'floor');
  const ceiling = readEdge(properties.ceiling, 'ceiling');
  refuseUpsideDown(floor, ceiling);
  return { floor, ceiling };
};

const readCell = (properties: JsonObject): Edges => {
  const grid = propertyText(properties, 'grid');
  if (grid === undefined) throw new Unusable('is a cell without the name of its "grid"');
  return grantedCell(grid, readEdge(properties.ceiling, 'ceiling'));
};

const readZone = (feature: Json | undefined, index: number, covers: readonly Box[] | undefined): ReadFeature => {
  if (!isObject(feature) || feature.type !== 'Feature') throw new Unusable('is not a GeoJSON Feature');
  if (!isObject(feature.properties)) throw new Unusable('has no properties');
  const { properties } = feature;
  const placed = shapeOf(feature);
  const { shape, box } = placed;
  refuseSwapped(box, covers);
  const kind = KINDS.find((known) => known === properties.kind);
  if (kind === undefined) throw new Unusable(`has no "kind" out of ${KINDS.join(', ')}`);
  const airspaceClass = CLASSES.find((known) => known === properties.class);
  if (kind === 'controlled' && airspaceClass === undefined)
    throw new Unusable('is controlled airspace without a "class" from A to G');
  const surfaceArea = properties.surfaceAreaOfAirport;
  if (surfaceArea !== undefined && surfaceArea !== null && typeof surfaceArea !== 'boolean') {
    throw new Unusable('has a "surfaceAreaOfAirport" that is neither true nor false');
  }
  const restriction = ZONE_RESTRICTIONS.find((known) => known === properties.restriction);
  if (restriction === undefined && properties.restriction !== undefined && properties.restriction !== null) {
    throw new Unusable(`has no "restriction" out of ${ZONE_RESTRICTIONS.join(', ')}`);
  }
  const { floor, ceiling, grants } = kind === 'cell' ? readCell(properties) : readEdges(properties);
  const { bars } = properties;
  if (bars !== undefined && bars !== null && bars !== BARS) throw new Unusable(`has "bars" that is not "${BARS}"`);
  const active = readActive(properties.active);
  const number = feature.id ?? properties.id;
  const id =
    typeof number === 'number'
      ? String(number)
      : (propertyText(properties, 'id') ?? (typeof number === 'string' ? number : undefined));
  const name = propertyText(properties, 'name') ?? id ?? `feature ${index + 1}`;
  const text = propertyText(properties, 'text');
  const zone: Zone = {
    id: id ?? name,
    name,
    kind,
    shape,
    box,
    floor,
    ceiling,
    ...(airspaceClass === undefined ? {} : { airspaceClass }),
    ...(typeof surfaceArea === 'boolean' ? { surfaceAreaOfAirport: surfaceArea } : {}),
    ...(restriction === undefined || kind !== 'geographical' ? {} : { restriction }),
    ...(active === undefined ? {} : { active }),
    ...(text === undefined ? {} : { text }),
    ...(grants === undefined ? {} : { grants }),
    ...(bars === BARS ? { bars } : {}),
  };
  return { zones: [zone], doubts: doubtsOf(placed) };
};

const readOwnZones = (file: FeatureFile): ZonesFile =>
  readFeatures(
    file,
    (feature, index) => readZone(feature, index, file.covers),
    (feature) => [isObject(feature) ? groundOf(() => shapeOf(feature), file.covers) : 'everywhere'],
  );

/**
 * Reads an airspace file: a GeoJSON FeatureCollection (RFC 7946) with the properties that schemas/zones.schema.json
 * describes, or a geographical zone collection of EUROCAE ED-318. Total: whatever cannot be used is a problem and the
 * ground it may concern is uncovered.
 */
export const readZones = (text: string): ZonesFile => {
  const file = readFeatureFile(text);
  return isGeographicalZones(file) ? readGeographicalZones(file) : readOwnZones(file);
};
