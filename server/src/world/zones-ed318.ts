import { LENGTH_UNITS } from '../units/convert.ts';
import { aboveEllipsoid, aboveGround, aboveSea, metres } from '../units/frames.ts';
import {
  type FeatureFile,
  isList,
  isObject,
  type Json,
  type JsonObject,
  propertyText,
  type Uncovered,
  Unusable,
} from './geojson-features.ts';
import type { Zone, ZoneEdge, ZoneRestriction } from './zone.ts';
import { refuseUpsideDown } from './zone-edge.ts';
import { doubtsOf, groundOf, type PlacedShape, readShape, refuseSwapped } from './zone-shape.ts';
import { type Applicability, collectionHolds, readApplicability } from './zones-ed318-times.ts';
import { type Doubt, type ReadFeature, readFeatures, type ZonesFile } from './zones-file.ts';

/** The groups of restrictions of ED-318 ("type" of a zone), and what they are here. */
const RESTRICTIONS: ReadonlyMap<string, ZoneRestriction> = new Map([
  ['PROHIBITED', 'prohibited'],
  ['REQ_AUTHORIZATION', 'authorisation'],
  ['CONDITIONAL', 'conditional'],
  ['USPACE', 'u-space'],
  ['NO_RESTRICTION', 'none'],
]);

/** Members that every zone of ED-318 has; without one the zone still counts, and the fault is told. */
const REQUIRED: readonly (readonly [string, (value: Json | undefined) => boolean])[] = [
  ['country', (value) => typeof value === 'string' && value.length === 3],
  ['variant', (value) => value === 'COMMON' || value === 'CUSTOMIZED'],
  ['zoneAuthority', (value) => isList(value) && value.length > 0],
];

const propertiesOf = (feature: Json | undefined): JsonObject | undefined =>
  isObject(feature) && isObject(feature.properties) ? feature.properties : undefined;

/** Whether a collection is one of ED-318: a zone in it names its authority or its variant, and none has our own "kind". */
export const isGeographicalZones = ({ features }: FeatureFile): boolean => {
  let found = false;
  for (const feature of features) {
    const properties = propertiesOf(feature);
    if (properties === undefined) continue;
    if (properties.kind !== undefined) return false;
    found ||= properties.zoneAuthority !== undefined || properties.variant !== undefined;
  }
  return found;
};

/** Of a text in several languages the English one, else the first. */
const textIn = (value: Json | undefined): string | undefined => {
  const texts = (isList(value) ? value : [])
    .filter(isObject)
    .filter((entry) => propertyText(entry, 'text') !== undefined);
  const english = texts.find(({ lang }) => typeof lang === 'string' && lang.toLowerCase().startsWith('en'));
  const chosen = english ?? texts[0];
  return chosen === undefined ? undefined : propertyText(chosen, 'text');
};

/** The radius of a circle is in metres: the unit of a layer is for its heights only. */
const shapeOf = (geometry: JsonObject): PlacedShape =>
  readShape(geometry, () => {
    const { extent } = geometry;
    if (!isObject(extent) || extent.subType !== 'Circle' || typeof extent.radius !== 'number') {
      throw new Unusable('is a Point without an extent that is a circle with a radius');
    }
    return metres(extent.radius);
  });

const edgeOf = (layer: JsonObject, end: 'lower' | 'upper', unit: number): ZoneEdge => {
  const value = layer[end];
  if (value === undefined || value === null) return end === 'lower' ? 'surface' : 'unlimited';
  if (typeof value !== 'number' || !Number.isFinite(value))
    throw new Unusable(`has a layer whose ${end} limit is no number`);
  const reference = layer[`${end}Reference`];
  if (reference === 'AGL')
    return end === 'lower' && value <= 0 ? 'surface' : { aboveGround: aboveGround(value * unit) };
  if (reference === 'AMSL') return { aboveSea: aboveSea(value * unit) };
  if (reference === 'WGS84') return { aboveEllipsoid: aboveEllipsoid(value * unit) };
  throw new Unusable(`has a layer whose ${end} limit counts from none of AGL, AMSL and WGS84`);
};

interface Layer {
  readonly floor: ZoneEdge;
  readonly ceiling: ZoneEdge;
}

/** Without a layer a zone has no limit in height. */
const layerOf = (value: Json | undefined): Layer => {
  if (value === undefined || value === null) return { floor: 'surface', ceiling: 'unlimited' };
  if (!isObject(value)) throw new Unusable('has a layer that is no group of limits');
  const { uom } = value;
  if (uom !== undefined && uom !== 'm' && uom !== 'ft')
    throw new Unusable('has a layer in a unit that is neither m nor ft');
  const unit = uom === 'ft' ? LENGTH_UNITS.ft : 1;
  const layer = { floor: edgeOf(value, 'lower', unit), ceiling: edgeOf(value, 'upper', unit) };
  refuseUpsideDown(layer.floor, layer.ceiling);
  return layer;
};

interface Part {
  readonly geometry: JsonObject;
  readonly layer: Json | undefined;
}

/** The geometries of a feature; those of a collection have layers of their own, or else that of the collection. */
const partsOf = (geometry: Json | undefined): readonly Part[] => {
  if (!isObject(geometry)) throw new Unusable('has no geometry');
  if (geometry.type !== 'GeometryCollection') return [{ geometry, layer: geometry.layer }];
  if (!isList(geometry.geometries) || geometry.geometries.length === 0) {
    throw new Unusable('has a collection without geometries');
  }
  return geometry.geometries.map((part) => {
    if (!isObject(part)) throw new Unusable('has a collection with something that is no geometry');
    return { geometry: part, layer: part.layer ?? geometry.layer };
  });
};

/** What all layers of a zone share. */
type Terms = Omit<Zone, 'shape' | 'box' | 'floor' | 'ceiling'>;

const termsOf = (properties: JsonObject, { active }: Applicability): Terms => {
  const id = propertyText(properties, 'identifier');
  if (id === undefined) throw new Unusable('has no "identifier"');
  const restriction = typeof properties.type === 'string' ? RESTRICTIONS.get(properties.type) : undefined;
  if (restriction === undefined) throw new Unusable(`has no "type" out of ${[...RESTRICTIONS.keys()].join(', ')}`);
  const text = [textIn(properties.message), propertyText(properties, 'restrictionConditions')]
    .filter((part) => part !== undefined)
    .join(' / ');
  return {
    id,
    name: textIn(properties.name) ?? id,
    kind: 'geographical',
    restriction,
    ...(active === undefined ? {} : { active }),
    ...(text === '' ? {} : { text }),
  };
};

const readFeature = (feature: Json | undefined, covers: ZonesFile['covers']): ReadFeature => {
  if (!isObject(feature) || feature.type !== 'Feature') throw new Unusable('is not a GeoJSON Feature');
  const properties = propertiesOf(feature);
  if (properties === undefined) throw new Unusable('has no properties');
  const applicability = readApplicability(properties.limitedApplicability);
  const terms = termsOf(properties, applicability);
  const parts = partsOf(feature.geometry);
  const zones: Zone[] = [];
  const doubts: Doubt[] = [];
  const all = {};
  for (const { geometry, layer } of parts) {
    try {
      const placed = shapeOf(geometry);
      const { shape, box } = placed;
      refuseSwapped(box, covers);
      const whole = parts.length > 1 ? { layerOf: all } : {};
      zones.push({ ...terms, shape, box, ...layerOf(layer), ...whole });
      doubts.push(...doubtsOf(placed));
    } catch (error) {
      if (!(error instanceof Unusable)) throw error;
      doubts.push({ reason: error.message, grounds: [groundOf(() => shapeOf(geometry), covers)] });
    }
  }
  const faults = REQUIRED.filter(([key, isSound]) => !isSound(properties[key])).map(
    ([key]) => `has no valid "${key}", which ED-318 requires`,
  );
  const grounds = zones.map(({ box }) => box);
  doubts.push(...[...faults, ...applicability.faults].map((reason) => ({ reason, grounds })));
  return { zones, doubts };
};

const extentOf = (feature: Json | undefined, covers: ZonesFile['covers']): readonly Uncovered[] => {
  try {
    const parts = partsOf(isObject(feature) ? feature.geometry : undefined);
    return parts.map(({ geometry }) => groundOf(() => shapeOf(geometry), covers));
  } catch {
    return ['everywhere'];
  }
};

const sayZone = (index: number, feature: Json | undefined): string => {
  const id = propertyText(propertiesOf(feature) ?? {}, 'identifier');
  return id === undefined ? `feature ${index + 1}` : `zone ${index + 1} ("${id.slice(0, 60)}")`;
};

/**
 * Reads a collection of UAS geographical zones as EUROCAE ED-318 lays it out: GeoJSON whose geometries carry layers and,
 * for circles, an extent. Zones that can be used are used; of the others the ground is uncovered. Total.
 */
export const readGeographicalZones = (file: FeatureFile): ZonesFile => {
  const { covers } = file;
  const read = readFeatures(
    file,
    (feature) => readFeature(feature, covers),
    (feature) => extentOf(feature, covers),
    sayZone,
  );
  const { holds, fault, issued } = collectionHolds(file.metadata ?? {});
  const edition = read.edition ?? (issued === undefined ? undefined : `issued ${issued}`);
  return {
    ...read,
    problems: fault === undefined ? read.problems : [...read.problems, fault],
    ...(edition === undefined ? {} : { edition }),
    ...(holds === undefined ? {} : { holds }),
  };
};
