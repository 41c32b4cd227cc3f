import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { OUT_OF_REACH } from '../server/src/rulebook/out-of-reach.ts';
import { RULES } from '../server/src/rules/index.generated.ts';
import { inProject } from './support/project.ts';

/**
 * Every condition of the reference texts is a rule here, or stands as out of a plan's reach with its reason. The names on
 * the left are the working titles of those texts; each on the right is a rule, or a row of the list of what is out of reach.
 */
const COVERED: Readonly<Record<string, readonly string[]>> = {
  // 49 U.S.C. 44809
  'rec-purpose-only': ['recreation-with-work'],
  'rec-cbo-guidelines': ['guidelines-unstated'],
  'rec-sight-or-colocated-observer': ['goggles-without-observer', 'hidden-from-pilot', 'seen-beyond-guidance-range'],
  'rec-give-way-crewed': ['crewed-traffic-unstated'],
  'rec-controlled-airspace-authorisation': ['zone-entered-unauthorised'],
  'rec-class-g-400ft': ['point-above-height-limit', 'leg-above-height-limit', 'area-above-height-limit'],
  'rec-knowledge-test-proof': ['competency-missing'],
  'rec-registered-and-marked': ['registration-missing', 'aircraft-unmarked'],
  'rec-weight-over-55lb': ['aircraft-too-heavy'],
  // 14 CFR part 107
  'p107-small-aircraft-mass': ['aircraft-too-heavy'],
  'p107-pilot-certificate': ['competency-missing', 'papers-not-carried'],
  'p107-recency-24-months': ['competency-lapsed'],
  'p107-aircraft-registered': ['registration-missing', 'registration-lapsed'],
  'p107-safe-condition': ['aircraft-condition-unstated'],
  'p107-medical-fit': ['crew-fitness-unstated'],
  'p107-rpic-designated': ['pilot-undesignated', 'lost-link-unplanned'],
  'p107-no-careless-no-drop-hazard': ['careless-operation', 'people-under-drop'],
  'p107-alcohol-drugs': ['crew-fitness-unstated'],
  'p107-emergency-deviation': ['emergency-deviation-unreported'],
  'p107-event-report-10-days': ['event-unreported'],
  'p107-moving-vehicle-base': ['base-in-motion'],
  'p107-night-training': ['night-training-missing'],
  'p107-anticollision-light': ['anti-collision-light-missing'],
  'p107-light-period': ['anti-collision-light-missing', 'night-training-missing'],
  'p107-sight-capability': ['hidden-from-pilot', 'seen-beyond-guidance-range', 'seen-beyond-visibility'],
  'p107-sight-exercised-by': ['goggles-without-observer', 'hidden-from-pilot'],
  'p107-observer-duties': ['crew-unbriefed', 'goggles-without-observer'],
  'p107-one-aircraft-per-person': ['one-person-for-two-aircraft'],
  'p107-no-hazmat': ['dangerous-goods-unstated'],
  'p107-yield-all-aircraft': ['crewed-traffic-unstated'],
  'p107-no-collision-proximity': ['collision-hazard'],
  'p107-over-people': ['people-overflown', 'people-unstated'],
  'p107-controlled-airspace-authorisation': ['zone-entered-unauthorised'],
  'p107-airport-interference': ['crewed-traffic-unstated', 'runway-zone-entered'],
  'p107-prohibited-restricted-area': ['zone-entered-unauthorised'],
  'p107-notam-restrictions': ['restriction-entered', 'restrictions-not-looked-up'],
  'p107-no-transponder-no-adsb-out': ['transponder-unstated'],
  'p107-preflight-assessment': [
    'restrictions-not-looked-up',
    'people-unstated',
    'obstacle-struck',
    'wind-above-aircraft-limit',
  ],
  'p107-crew-briefing': ['crew-unbriefed'],
  'p107-link-check': ['aircraft-condition-unstated', 'beyond-link-range'],
  'p107-energy-for-mission': ['energy-short', 'reserve-below-policy', 'return-energy-short'],
  'p107-payload-secure': ['aircraft-condition-unstated'],
  'p107-category-aircraft-eligible': ['category-over-people-unmet'],
  'p107-groundspeed': ['ground-speed-above-limit'],
  'p107-height-400ft': ['point-above-height-limit', 'leg-above-height-limit', 'area-above-height-limit'],
  'p107-visibility-3sm': ['visibility-below-minimum'],
  'p107-cloud-clearance': ['cloud-nearer-than-minimum'],
  'p107-category-limits': ['category-over-people-unmet', 'category-switched-inadvertently'],
  'p107-over-moving-vehicles': ['people-overflown'],
  // 14 CFR parts 48 and 89
  'reg-valid-3-years': ['registration-lapsed', 'registrant-too-young'],
  'reg-marking-external': ['aircraft-unmarked'],
  'reg-number-format': ['registration-number-malformed'],
  'remote-id-means': [
    'remote-identification-missing',
    'module-beyond-sight',
    'recognised-area-left',
    'identification-stopped',
  ],
  'remote-id-serial-format': ['serial-number-malformed'],
  'enforcement-note': ['penalties'],
  // (EU) 2019/947
  'eu-open-gate': [
    'dropped-in-open-category',
    'aircraft-too-heavy',
    'category-not-for-aircraft',
    'dangerous-goods-unstated',
  ],
  'eu-height-120m': ['point-above-height-limit', 'leg-above-height-limit', 'cliff-not-resolved'],
  'eu-obstacle-plus-15m': ['point-above-height-limit', 'request-names-no-structure'],
  'eu-a1-over-people': ['people-overflown', 'category-not-for-aircraft'],
  'eu-a2-near-people': ['people-too-near', 'people-nearer-than-guidance'],
  'eu-a3-far-from-people': ['land-use-area-too-near', 'people-nearer-than-guidance'],
  'eu-operator-registered': ['registration-missing'],
  'eu-operator-number-format': ['registration-number-malformed', 'secret-digits-written'],
  'eu-pilot-competency': ['competency-missing', 'competency-lapsed'],
  'eu-pilot-min-age': ['pilot-age-unstated'],
  'eu-remote-id-active': ['remote-identification-missing'],
  'eu-night-green-light': ['green-light-missing'],
  'eu-geo-zones': ['zone-entered-unauthorised', 'airspace-data-old'],
  'eu-pilot-duties': [
    'crew-fitness-unstated',
    'aircraft-condition-unstated',
    'crewed-traffic-unstated',
    'flight-not-discontinued',
  ],
  'eu-observer-alongside': ['goggles-without-observer'],
  'eu-insurance': ['insurance-unstated'],
  'eu-vlos-screen': ['seen-beyond-guidance-range'],
  // Corrections and additions
  'runway-exclusion-zone': ['runway-zone-entered'],
  'eu-pilot-designated': ['pilot-undesignated'],
  'eu-involved-consent': ['involved-unasked'],
  '49 U.S.C. 44812': ['restrictions-not-looked-up'],
  FRIA: ['recognised-area-left'],
  'Remote identification': ['identification-inexact'],
  'Night in recreation': ['night-lighting-unstated'],
};

/** Beside the project, on some machines, lies a folder of reference texts; one of them has the entries named above. */
const FOLDER = inProject('../shared');
const BOOK = existsSync(FOLDER)
  ? readdirSync(FOLDER)
      .filter((name) => name.endsWith('.md'))
      .map((name) => readFileSync(`${FOLDER}/${name}`, 'utf8'))
      .find((text) => text.includes('### `rec-purpose-only`'))
  : undefined;

const known = new Set([...RULES.map(({ id }) => id), ...OUT_OF_REACH.map(({ name }) => name)]);

describe('what the walk over the reference texts leads to', () => {
  for (const [entry, names] of Object.entries(COVERED)) {
    test(`${entry}: each name is a rule or out of reach`, () => {
      expect(names.length).toBeGreaterThan(0);
      expect(names.filter((name) => !known.has(name))).toEqual([]);
    });
  }
});

test('what is out of reach has a name of its own, a citation and a reason', () => {
  const names = OUT_OF_REACH.map(({ name }) => name);
  expect(new Set(names).size).toBe(names.length);
  expect(names.filter((name) => RULES.some(({ id }) => id === name))).toEqual([]);
  for (const { cite, why, asks } of OUT_OF_REACH) for (const text of [cite, why, asks]) expect(text).toMatch(/\S/);
});

/** The entries of sections 1 to 4, and the list of new rules, by the name each begins with. */
const entriesOf = (book: string): readonly string[] => {
  const lines = book.split('\n');
  const first = lines.findIndex((line) => line.startsWith('## 1. '));
  const last = lines.findIndex((line) => line.startsWith('## 5. '));
  const added = lines.findIndex((line) => line.startsWith('### 14.3'));
  const end = lines.findIndex((line, i) => i > added && line.startsWith('### '));
  const headed = lines.slice(first, last).flatMap((line) => /^### `([^`]+)`/.exec(line)?.[1] ?? []);
  const list = lines.slice(added + 1, end).filter((line) => line.startsWith('- '));
  const listed = list.flatMap((line) => {
    const named = [...line.matchAll(/`((?:eu|rec|p107|reg|remote|runway)-[a-z0-9-]+)`/g)].map(
      (match) => match[1] ?? '',
    );
    return named.length > 0
      ? named
      : [/^- ((?:[0-9]+ U\.S\.C\. [0-9]+)|[^:(]+?)\s*(?:\(|:|\.)/.exec(line)?.[1] ?? line];
  });
  return [...headed, ...listed];
};

const BOOK_MISSING = BOOK !== undefined ? '' : ' (skipped: the folder of reference texts is not beside the project)';

test.skipIf(BOOK_MISSING !== '')(`every entry of the reference texts is covered${BOOK_MISSING}`, () => {
  const entries = entriesOf(BOOK ?? '');
  expect(entries.length).toBeGreaterThan(70);
  const uncovered = entries.filter(
    (entry) => !Object.keys(COVERED).some((name) => entry === name || entry.startsWith(name)),
  );
  expect(uncovered).toEqual([]);
});
