import { settings as validateSettings } from '../shape/plan-shape.generated.js';
import { amountOf, asSection, heightOf, listOf, movingOf, present, type Section, sectionOf, textOf } from './fields.ts';
import { inTextOrder } from './notes.ts';
import { readPlainDocument } from './read-aircraft.ts';
import {
  type HouseLimit,
  type HouseLimits,
  LEAD_KINDS,
  type LeadTimes,
  type Settings,
  type SwitchedOff,
} from './settings.ts';

/** Reads a settings file. Total, as `readPlan` is. */
export const readSettings = (text: string, document: string): Settings => {
  const { notes, root } = readPlainDocument(text, document, 'settings', validateSettings, 'settings');
  const settings = {
    document,
    country: textOf(root, 'country'),
    state: textOf(root, 'state'),
    limits: readLimits(sectionOf(root, 'limits')),
    leadTimes: readLeadTimes(sectionOf(root, 'lead-times')),
    off: listOf(root, 'off').flatMap((field) => readSwitch(asSection(field)) ?? []),
  };
  return present<Settings>({ ...settings, slips: inTextOrder(notes.slips) });
};

const readLimits = (section: Section | undefined): HouseLimits => {
  const limit = <T>(key: string, read: (section: Section) => T | undefined): HouseLimit<T> | undefined => {
    const one = sectionOf(section, key);
    const value = one && read(one);
    if (one === undefined || value === undefined) return undefined;
    return present<HouseLimit<T>>({ value, because: textOf(one, 'because'), span: one.node.span });
  };
  const length = (one: Section) => amountOf(one, 'is', 'length');
  const age = (one: Section) => amountOf(one, 'is', 'time');
  return present<HouseLimits>({
    height: limit('height', (one) => heightOf(one, 'is')),
    sightRange: limit('sight-range', length),
    groundClearance: limit('ground-clearance', length),
    terrainMargin: limit('terrain-margin', length),
    reserve: limit('reserve', (one) => amountOf(one, 'is', 'share')),
    wind: limit('wind', (one) => movingOf(one, 'is')),
    speed: limit('speed', (one) => movingOf(one, 'is')),
    peopleDistance: limit('people-distance', length),
    zoneMargin: limit('zone-margin', length),
    statementAge: limit('statement-age', age),
    airspaceAge: limit('airspace-age', age),
    obstaclesAge: limit('obstacles-age', age),
    peopleAge: limit('people-age', age),
    runwaysAge: limit('runways-age', age),
    terrainAge: limit('terrain-age', age),
    paperNotice: limit('paper-notice', age),
  });
};

const readLeadTimes = (section: Section | undefined): LeadTimes =>
  present<LeadTimes>(Object.fromEntries(LEAD_KINDS.map((kind) => [kind, amountOf(section, kind, 'time')])));

const readSwitch = (section: Section | undefined): SwitchedOff | undefined => {
  const rule = textOf(section, 'rule');
  if (section === undefined || rule === undefined) return undefined;
  return present<SwitchedOff>({ rule, because: textOf(section, 'because'), span: section.node.span });
};
