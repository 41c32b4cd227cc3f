import type { Validator } from '../shape/plan-shape.generated.js';
import { aircraft as validateAircraft } from '../shape/plan-shape.generated.js';
import type { Span } from '../text/span.ts';
import {
  type Aircraft,
  type Battery,
  type FlightPower,
  type Light,
  OVER_PEOPLE_CATEGORIES,
  type OverPeople,
  type Parachute,
  type PowerAtSpeed,
  type Registration,
  type RemoteIdentification,
  type Tried,
} from './aircraft.ts';
import { type Block, readWhole } from './blocks.ts';
import type { Shape } from './describe.ts';
import {
  amountOf,
  asList,
  asSection,
  countOf,
  dateOf,
  entriesOf,
  fieldOf,
  movingOf,
  oneOrMore,
  positiveOf,
  powerAtSpeed,
  present,
  type Section,
  sectionOf,
  textOf,
  wordOf,
} from './fields.ts';
import { inTextOrder, Notes } from './notes.ts';
import { readCamera } from './read-camera.ts';
import { checkShape, entryOf } from './shape-errors.ts';

/** A document of one group of keys, checked against its schema. */
export interface PlainDocument {
  readonly block: Block;
  readonly notes: Notes;
  readonly root?: Section;
  /** Where findings about the whole stand: the value of a key, or the start. */
  readonly home: Span;
}

/** Reads a document without a route in one piece and checks its shape. */
export const readPlainDocument = (
  text: string,
  document: string,
  shape: Shape,
  validate: Validator,
  homeKey: string,
): PlainDocument => {
  const { blocks, slips, eol } = readWhole(text, document);
  const block = blocks[0] ?? { role: 'whole', anchor: { document, at: 0 }, text: '', slips: [], broken: false };
  const all = [...slips, ...block.slips];
  const notes = new Notes(shape, `the ${shape} file`, { slips: all, broken: block.broken || slips.length > 0 });
  const { root, anchor } = block;
  const start: Span = { anchor, from: 0, to: 0 };
  if (root?.kind !== 'mapping') {
    if (root === undefined && !notes.broken) {
      notes.tell([], { kind: 'key-missing', key: shape, span: start, skeleton: `${shape}: 1\n`, insertAt: start });
    }
    if (root !== undefined && root.kind !== 'opaque' && !notes.broken) {
      const found = root.kind === 'sequence' ? 'a list' : 'a text';
      const expected = `keys and values, beginning with ${shape}: 1`;
      notes.refuse(root, [], { kind: 'value-of-wrong-kind', expected, found }, start);
    }
    return { block, notes, home: start };
  }
  const named = entryOf(root, homeKey);
  const home =
    (named?.value.kind === 'scalar' && named.value.text !== '' ? named.value.span : named?.key.span) ??
    root.entries[0]?.key.span ??
    start;
  checkShape(root, validate, notes, { anchor, text: block.text, eol, home });
  return { block, notes, root: { node: root, path: [], notes }, home };
};

/** Reads an aircraft file. Total, as `readPlan` is. */
export const readAircraft = (text: string, document: string): Aircraft => {
  const { block, notes, root, home } = readPlainDocument(text, document, 'aircraft', validateAircraft, 'name');
  const aircraft = {
    document,
    anchor: block.anchor,
    name: textOf(root, 'name'),
    kind: wordOf(root, 'kind', ['multirotor', 'fixed-wing']),
    mass: amountOf(root, 'mass', 'mass'),
    size: amountOf(root, 'size', 'length'),
    linkRange: amountOf(root, 'link-range', 'length'),
    maxSpeed: amountOf(root, 'max-speed', 'speed'),
    cruiseSpeed: movingOf(root, 'cruise-speed'),
    climbRate: movingOf(root, 'climb-rate'),
    descentRate: movingOf(root, 'descent-rate'),
    turnTime: amountOf(root, 'turn-time', 'time'),
    maxWind: amountOf(root, 'max-wind', 'speed'),
    maxDensityAltitude: amountOf(root, 'max-density-altitude', 'length'),
    endurance: positiveOf(root, 'endurance', 'time'),
    battery: readBattery(sectionOf(root, 'battery')),
    power: readPower(sectionOf(root, 'power')),
    tried: readTried(sectionOf(root, 'tried')),
    reserve: amountOf(root, 'reserve', 'share'),
    euClass: wordOf(root, 'eu-class', ['C0', 'C1', 'C2', 'C3', 'C4', 'legacy', 'private']),
    registration: readRegistration(sectionOf(root, 'registration')),
    remoteId: readRemoteIdentification(sectionOf(root, 'remote-identification')),
    lights: readLights(root),
    overPeople: readOverPeople(sectionOf(root, 'over-people')),
    camera: readCamera(sectionOf(root, 'camera')),
    parachute: readParachute(sectionOf(root, 'parachute')),
    glideRatio: countOf(root, 'glide-ratio'),
    bank: amountOf(root, 'bank', 'angle'),
    altimeter: wordOf(root, 'altimeter', ['barometer', 'satellites']),
    dragArea: amountOf(root, 'drag-area', 'surface'),
    lowSpeedMode: wordOf(root, 'low-speed-mode', ['yes', 'no']),
    nameSpan: home,
  };
  return present<Aircraft>({ ...aircraft, slips: inTextOrder(notes.slips) });
};

const readBattery = (section: Section | undefined): Battery | undefined =>
  section &&
  present<Battery>({
    span: section.node.span,
    nominal: amountOf(section, 'nominal', 'energy'),
    usable: positiveOf(section, 'usable', 'share'),
    health: positiveOf(section, 'health', 'share'),
    temperature: amountOf(section, 'temperature', 'temperature'),
  });

const readPower = (section: Section | undefined): FlightPower | undefined => {
  if (section === undefined) return undefined;
  const written = oneOrMore(fieldOf(section, 'cruise'));
  const cruise = written.flatMap((field): readonly PowerAtSpeed[] => {
    const read = powerAtSpeed(field);
    return read === undefined ? [] : [{ span: read.span, power: read.power.value, speed: read.speed.value }];
  });
  return present<FlightPower>({
    span: section.node.span,
    hover: amountOf(section, 'hover', 'power'),
    cruise,
    cruiseUnread: cruise.length === 0 || cruise.length < entriesOf(section, 'cruise'),
    climb: amountOf(section, 'climb', 'power'),
  });
};

const readParachute = (section: Section | undefined): Parachute | undefined =>
  section &&
  present<Parachute>({
    span: section.node.span,
    opensIn: amountOf(section, 'opens-in', 'time'),
    sinks: movingOf(section, 'sinks'),
  });

const readTried = (section: Section | undefined): Tried | undefined =>
  section &&
  present<Tried>({
    span: section.node.span,
    mass: positiveOf(section, 'mass', 'mass'),
    densityAltitude: amountOf(section, 'density-altitude', 'length'),
  });

const readRegistration = (section: Section | undefined): Registration | undefined =>
  section &&
  present<Registration>({
    span: section.node.span,
    number: textOf(section, 'number'),
    expires: dateOf(section, 'expires'),
  });

const readRemoteIdentification = (section: Section | undefined): RemoteIdentification | undefined =>
  section &&
  present<RemoteIdentification>({
    span: section.node.span,
    means: wordOf(section, 'means', ['standard', 'module', 'recognised area']),
    serial: textOf(section, 'serial'),
  });

const readOverPeople = (section: Section | undefined): OverPeople | undefined =>
  section &&
  present<OverPeople>({
    span: section.node.span,
    category: wordOf(section, 'category', OVER_PEOPLE_CATEGORIES),
    rotorsCovered: wordOf(section, 'rotors-covered', ['yes', 'no']),
    declaration: textOf(section, 'declaration'),
    labelled: wordOf(section, 'labelled', ['yes', 'no']),
    airworthiness: textOf(section, 'airworthiness'),
  });

const readLights = (root: Section | undefined): readonly Light[] | undefined => {
  const field = fieldOf(root, 'lights');
  if (field === undefined) return undefined;
  return asList(field).flatMap((each) => {
    const light = asSection(each);
    return light === undefined ? [] : [readLight(light)];
  });
};

const readLight = (section: Section): Light =>
  present<Light>({
    span: section.node.span,
    flashing: wordOf(section, 'flashing', ['yes', 'no']),
    visible: amountOf(section, 'visible', 'length'),
    colour: wordOf(section, 'colour', ['white', 'green', 'red', 'blue', 'yellow']),
  });
