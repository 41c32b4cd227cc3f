import type { ZoneMapping } from '../plan/mapping.ts';
import { degrees } from '../units/frames.ts';
import {
  type FeatureFile,
  isObject,
  type Json,
  type JsonObject,
  readFeatureFile,
  Unusable,
} from './geojson-features.ts';
import { activeOf, chosen, chosenOf, edgeOf, hoursOf, meets, propertyValue, radiusOf } from './mapped-values.ts';
import { ZONE_RESTRICTIONS, type Zone, type ZoneKind } from './zone.ts';
import { grantedCell, refuseUpsideDown } from './zone-edge.ts';
import { doubtsOf, groundOf, type PlacedShape, readShape, refuseSwapped } from './zone-shape.ts';
import { type ReadFeature, readFeatures, type ZonesFile } from './zones-file.ts';

const KINDS: readonly ZoneKind[] = [
  'controlled',
  'prohibited',
  'restricted',
  'danger',
  'geographical',
  'house',
  'cell',
];

/** `flight` is all of it, which needs no word in a zone. */
const BARS = ['take-off and landing', 'flight'] as const;
const CLASSES = ['A', 'B', 'C', 'D', 'E', 'F', 'G'] as const;

const propertiesOf = (feature: Json | undefined): JsonObject => {
  if (!isObject(feature) || feature.type !== 'Feature') throw new Unusable('is not a GeoJSON Feature');
  if (!isObject(feature.properties)) throw new Unusable('has no properties');
  return feature.properties;
};

const shapeOf = (feature: Json | undefined, mapping: ZoneMapping): PlacedShape => {
  const properties = propertiesOf(feature);
  return readShape(isObject(feature) ? feature.geometry : null, () => radiusOf(properties, mapping.radius));
};

const idOf = (feature: Json | undefined, properties: JsonObject, mapping: ZoneMapping): string | undefined => {
  if (mapping.id !== undefined) return propertyValue(properties, mapping.id);
  const id = isObject(feature) ? feature.id : undefined;
  return typeof id === 'string' || typeof id === 'number' ? String(id) : undefined;
};

/** What a feature is, apart from its shape and its heights; undefined where it is no zone. */
const termsOf = (
  feature: Json | undefined,
  index: number,
  mapping: ZoneMapping,
): Omit<Zone, 'shape' | 'box' | 'floor' | 'ceiling'> | undefined => {
  const properties = propertiesOf(feature);
  const word = chosen(properties, mapping.kind);
  if (word === 'none') return undefined;
  const kind = chosenOf(properties, mapping.kind, KINDS);
  if (kind === undefined) {
    const { kind: choice } = mapping;
    throw new Unusable(
      choice !== undefined && 'property' in choice ? `has no "${choice.property}", which is its kind` : 'has no kind',
    );
  }
  const airspaceClass = chosenOf(properties, mapping.airspaceClass, CLASSES);
  if (kind === 'controlled' && airspaceClass === undefined)
    throw new Unusable('is controlled airspace without a class from A to G');
  const surfaceArea = chosenOf(properties, mapping.surfaceArea, ['yes', 'no']);
  const restriction = kind === 'geographical' ? chosen(properties, mapping.restriction) : undefined;
  const restricts = ZONE_RESTRICTIONS.find((known) => known === restriction);
  if (restriction !== undefined && restricts === undefined)
    throw new Unusable('has a restriction that its mapping does not name');
  const bars = chosenOf(properties, mapping.bars, BARS);
  const id = idOf(feature, properties, mapping);
  const name =
    (mapping.name === undefined ? undefined : propertyValue(properties, mapping.name)) ?? id ?? `feature ${index + 1}`;
  const text = mapping.text.flatMap((property) => propertyValue(properties, property) ?? []).join(' / ');
  const active = activeOf(properties, mapping.active);
  return {
    id: id ?? name,
    name,
    kind,
    ...(airspaceClass === undefined ? {} : { airspaceClass }),
    ...(surfaceArea === undefined ? {} : { surfaceAreaOfAirport: surfaceArea === 'yes' }),
    ...(restricts === undefined ? {} : { restriction: restricts }),
    ...(bars === 'take-off and landing' ? { bars } : {}),
    ...(active === undefined ? {} : { active }),
    ...(text === '' ? {} : { text }),
  };
};

/** What is no zone by its mapping, whatever else is wrong with it. */
const counts = (feature: Json | undefined, mapping: ZoneMapping): boolean => {
  const properties = propertiesOf(feature);
  return mapping.counts.every((condition) => meets(properties, condition));
};

type Edges = Pick<Zone, 'floor' | 'ceiling' | 'grants'>;

const edgesOf = (properties: JsonObject, { floor, ceiling }: ZoneMapping): Edges => {
  if (floor === undefined || ceiling === undefined) throw new Unusable('has no floor or ceiling in its mapping');
  const edges = { floor: edgeOf(properties, floor, 'floor'), ceiling: edgeOf(properties, ceiling, 'ceiling') };
  refuseUpsideDown(edges.floor, edges.ceiling);
  return edges;
};

/** A cell has no limits itself; its ceiling is the height up to which flights are granted. */
const cellOf = (properties: JsonObject, { grid, ceiling }: ZoneMapping): Edges => {
  const name = chosen(properties, grid);
  if (name === undefined) throw new Unusable('is a cell of a grid that its mapping does not name ("grid")');
  if (ceiling === undefined) throw new Unusable('has no ceiling in its mapping');
  return grantedCell(name, edgeOf(properties, ceiling, 'ceiling'));
};

const readFeature = (
  feature: Json | undefined,
  index: number,
  mapping: ZoneMapping,
  covers: ZonesFile['covers'],
): ReadFeature => {
  if (!counts(feature, mapping)) return { zones: [], doubts: [] };
  const terms = termsOf(feature, index, mapping);
  if (terms === undefined) return { zones: [], doubts: [] };
  const placed = shapeOf(feature, mapping);
  const { shape, box } = placed;
  refuseSwapped(box, covers);
  const properties = propertiesOf(feature);
  const edges = terms.kind === 'cell' ? cellOf(properties, mapping) : edgesOf(properties, mapping);
  const zone: Zone = { ...terms, shape, box, ...edges };
  return { zones: [zone], doubts: doubtsOf(placed) };
};

/** Features of one designation that ask the same at the same times are layers of one zone. */
const joinLayers = (zones: readonly Zone[]): readonly Zone[] => {
  const wholes = new Map<string, { readonly layerOf: object; count: number }>();
  const keyOf = ({ shape: _shape, box: _box, floor: _floor, ceiling: _ceiling, ...terms }: Zone): string =>
    JSON.stringify(terms);
  const keys = zones.map(keyOf);
  for (const key of keys) {
    const whole = wholes.get(key);
    if (whole === undefined) wholes.set(key, { layerOf: {}, count: 1 });
    else whole.count++;
  }
  return zones.map((zone, i) => {
    const whole = wholes.get(keys[i] ?? '');
    return whole === undefined || whole.count === 1 ? zone : { ...zone, layerOf: whole.layerOf };
  });
};

const sayFeature = (index: number, feature: Json | undefined, { name, id }: ZoneMapping): string => {
  const properties = isObject(feature) && isObject(feature.properties) ? feature.properties : {};
  for (const property of [name, id]) {
    const value = property === undefined ? undefined : properties[property];
    if (typeof value === 'string' && value.trim() !== '')
      return `feature ${index + 1} ("${value.trim().slice(0, 60)}")`;
  }
  return `feature ${index + 1}`;
};

const coversOf = ({ covers }: ZoneMapping): ZonesFile['covers'] =>
  covers?.map(([west, south, east, north]) => ({
    west: degrees(west),
    south: degrees(south),
    east: degrees(east),
    north: degrees(north),
  }));

/** Times of the mapping's own table that could not be read; each finishes the sentence "<mapping> ...". */
export const mappingFaults = ({ active }: ZoneMapping): readonly string[] =>
  [...(active?.table ?? [])].flatMap(([value, plain]) => {
    try {
      hoursOf(plain);
      return [];
    } catch (error) {
      if (!(error instanceof Unusable)) throw error;
      return [`has for "${value}" an entry that ${error.message}`];
    }
  });

/**
 * Reads an authority's GeoJSON through a mapping. Features that do not count by it are left out; what it does not name,
 * and what cannot be read, is a problem and the ground it concerns is uncovered. Total.
 */
export const readMappedZones = (text: string, mapping: ZoneMapping): ZonesFile => {
  const read: FeatureFile = readFeatureFile(text);
  const covers = coversOf(mapping) ?? read.covers;
  const file: FeatureFile = { ...read, ...(covers === undefined ? {} : { covers }) };
  const zones = readFeatures(
    file,
    (feature, index) => readFeature(feature, index, mapping, covers),
    (feature) => [groundOf(() => shapeOf(feature, mapping), covers)],
    (index, feature) => sayFeature(index, feature, mapping),
  );
  const nothing = zones.zones.length === 0 && zones.problems.length === 0;
  return {
    ...zones,
    zones: joinLayers(zones.zones),
    problems: nothing ? ['holds no feature that counts as a zone by its mapping'] : zones.problems,
  };
};
