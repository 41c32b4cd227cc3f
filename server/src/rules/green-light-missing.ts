import { civilNightHours } from '../facts/dark-hours.ts';
import { given, NotAssessed, present } from '../facts/fact.ts';
import { requireWhole } from '../facts/lacking.ts';
import { requireRead } from '../facts/unread.ts';
import type { Aircraft } from '../plan/aircraft.ts';
import { defineRule } from '../rulebook/rule.ts';
import { darkEnd, sayDark, stayInLight } from '../rulebook/say-dark.ts';
import { isMissing } from '../world/world.ts';

const OPEN = '(EU) 2019/947 UAS.OPEN.060(2)(g)';
const SPECIFIC = '(EU) 2019/947 UAS.SPEC.050(1)(l)';

/** Classes that are built with the light: (EU) 2019/945 Annex, parts 2 to 4. */
const CLASSES_WITH_LIGHT = new Set(['C1', 'C2', 'C3']);

const isGreenFlashing = ({ lights, euClass }: Aircraft): boolean =>
  CLASSES_WITH_LIGHT.has(euClass?.value ?? '') ||
  (lights ?? []).some(({ colour, flashing }) => colour?.value === 'green' && flashing?.value === 'yes');

/** `NotAssessed` where what the file does not say could be the light. */
const requireTold = (aircraft: Aircraft): void => {
  requireRead(aircraft.slips, 'lights');
  requireRead(aircraft.slips, 'eu-class');
  for (const { colour, flashing } of aircraft.lights ?? []) {
    const mayBe = (colour?.value ?? 'green') === 'green' && flashing?.value !== 'no';
    if (mayBe && (colour === undefined || flashing === undefined)) {
      throw new NotAssessed(
        `the aircraft file does not say ${colour === undefined ? 'the colour of its light ("colour")' : 'whether its green light flashes ("flashing")'}`,
      );
    }
  }
  given(
    aircraft.euClass,
    'the class of the aircraft ("eu-class"), which tells whether it is built with a green light,',
  );
};

export default defineRule({
  visits: 'plan',
  title: 'the window reaches into the night without a green flashing light',
  question: 'By day or by night?',
  level: { 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'The green flashing light tells everybody who looks up at night, the crew of a rescue helicopter above all, that this light is an unmanned aircraft, and near.',
  condition:
    'At no time of the window, at no place of the route, is it night (the sun’s centre more than 6° below the horizon), or the aircraft is of class C1, C2 or C3, which are built with the light, or its file names a light with `colour: green` and `flashing: yes`. As long as times of arrival are not worked out, the whole window counts at every place. A minute at each end is not told.',
  exceptions: 'The light has to be switched on; no plan can show that it was.',
  mend: 'End the window before night, or fit a green flashing light and write it into the aircraft file: `lights: [{ colour: green, flashing: yes }]`.',
  sources: [
    { cite: OPEN, edition: '2026-10-10', trust: 'secondary copy', for: ['eu-open'] },
    { cite: SPECIFIC, edition: '2026-10-10', trust: 'from memory', for: ['eu-specific'] },
    { cite: '(EU) 2019/945 Annex, parts 2 to 4', edition: '2026-10-10', trust: 'secondary copy' },
    { cite: '(EU) 923/2012 Art. 2 (night)', edition: '2026', trust: 'from memory' },
  ],
  needs: ['aircraft'],
  example: {
    faulty:
      'country: FR\nwindow: { from: 2026-06-14 23:00 +02:00, until: 2026-06-14 23:40 +02:00 }\nsite: { take-off: { lat: 45.5, lon: 6.3, elevation: 400 m }, permission: { of: shore owner, given: 2026-06-02 } }\nroute:\n  - take-off: home\n  - point: east-bank\n    at: 45.5, 6.302\n    altitude: 60 m AGL\n  - land: home\n',
    sound:
      'country: FR\nwindow: { from: 2026-06-14 23:00 +02:00, until: 2026-06-14 23:40 +02:00 }\nsite: { take-off: { lat: 45.5, lon: 6.3, elevation: 400 m }, permission: { of: shore owner, given: 2026-06-02 } }\nroute:\n  - take-off: home\n  - point: east-bank\n    at: 45.5, 6.302\n    altitude: 60 m AGL\n  - land: home\n',
    world:
      'middle: [6.305, 45.5]\naircraft: |\n  aircraft: 1\n  name: bittern-2\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 1.4 kg\n  size: 0.5 m\n  eu-class: legacy\n  registration: { number: FRA87astrdge12k8 }\n',
    soundWorld:
      'middle: [6.305, 45.5]\naircraft: |\n  aircraft: 1\n  name: bittern-2\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 1.4 kg\n  size: 0.5 m\n  eu-class: legacy\n  registration: { number: FRA87astrdge12k8 }\n  lights: [{ colour: green, flashing: yes }]\n',
  },

  *check(plan, { ask, world, ruleSet }) {
    const { aircraft: loaded } = world;
    if (!isMissing(loaded) && isGreenFlashing(loaded)) return;
    const dark = ask(civilNightHours, plan);
    if (dark.stretches.length === 0) {
      requireWhole(dark);
      return;
    }
    const aircraft = present(loaded);
    requireTold(aircraft);
    yield {
      found: {
        at: darkEnd(dark, plan),
        subject: 'the window',
        message: `${sayDark(dark, 'night', plan)}, and the aircraft file names no green flashing light; ${ruleSet === 'eu-specific' ? SPECIFIC : OPEN} requires one at night`,
        place: { at: dark.at },
        related: [{ at: aircraft.nameSpan, message: 'the aircraft file names no green flashing light' }],
        fixes: stayInLight(dark, plan),
      },
    };
  },
});
