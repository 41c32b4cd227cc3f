import { type AntiCollisionLight, antiCollisionLight, LIGHT_RANGE } from '../facts/anti-collision-light.ts';
import { type DarkHours, nightHoursByEither, sunDownHours } from '../facts/dark-hours.ts';
import { present } from '../facts/fact.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import type { Plan } from '../plan/model.ts';
import type { MarginHere } from '../rulebook/finding.ts';
import { defineRule } from '../rulebook/rule.ts';
import { darkEnd, sayDark, stayInLight } from '../rulebook/say-dark.ts';
import { sayMetresAgainst, sayNumber } from '../units/say.ts';

const LAW = '14 CFR 107.29(a)(2) and (b)';
const SAID = `${sayNumber(LIGHT_RANGE, 3)} m (3 SM)`;

const marginOf = ({ visible, light }: AntiCollisionLight, plan: Plan): MarginHere => ({
  subject: 'the anti-collision light',
  at: plan.aircraft?.span ?? light.span,
  measured: { value: visible, unit: 'm' },
  limit: { value: LIGHT_RANGE, unit: 'm', setBy: LAW },
  room: visible - LIGHT_RANGE,
});

const lengthOf = ({ stretches }: DarkHours): number =>
  stretches.reduce((sum, { from, until }) => sum + (until - from), 0);

/** Twilight stands in (b), night in (a)(2): a waiver has to name what the window holds, with a minute to spare. */
const sectionsOf = (sunDown: DarkHours, night: DarkHours): readonly string[] => {
  const dark = lengthOf(night);
  if (dark === 0) return ['107.29(b)'];
  return lengthOf(sunDown) - dark > 60_000 ? ['107.29(a)(2)', '107.29(b)'] : ['107.29(a)(2)'];
};

export default defineRule({
  visits: 'plan',
  title: 'the window reaches past sunset or begins before sunrise without an anti-collision light',
  question: 'By day or by night?',
  level: { 'us-part-107': 'stop' },
  basis: 'law',
  why: 'In the dusk a small aircraft is invisible to the helicopter that comes low over the ridge. The flashing light is the only thing that its pilot can see in time. Most who break this rule took off in daylight and came back late.',
  condition:
    'At no time of the window, at no place of the route, is the sun down (its centre lower than 50’ below the horizon: official sunset to official sunrise), or the aircraft file names a light with `flashing: yes` that is `visible` for at least 3 statute miles (4828.032 m). As long as times of arrival are not worked out, the whole window counts at every place. A minute at each end is not told: official times are printed to the minute.',
  exceptions:
    'The remote pilot may dim the light for safety, but not put it out. Outside Alaska civil twilight is the 30 minutes beside sunrise and sunset; since the light is needed by night, too, the sun being down is enough.',
  mend: 'End the window at sunset or begin it at sunrise, or fit a light and write it into the aircraft file: `lights: [{ flashing: yes, visible: 3 SM }]`. Light lent by an apron or a street does not count.',
  sources: [
    { cite: '14 CFR 107.29(a)(2), (b), (c)', edition: '2026-01-01', trust: 'secondary copy' },
    { cite: '14 CFR 1.1 (night)', edition: '2026', trust: 'secondary copy' },
    {
      cite: 'U.S. Naval Observatory, Rise, Set, and Twilight Definitions',
      edition: 'as served in 2026',
      trust: 'secondary copy',
    },
    { cite: 'J. Meeus, Astronomical Algorithms, ch. 25', edition: '2nd, 1998', trust: 'secondary copy' },
  ],
  needs: ['aircraft'],
  waivable: ['14 CFR 107.29(a)(2)', '14 CFR 107.29(b)'],
  example: {
    faulty: 'window: { from: 2026-06-14 20:20 -07:00, until: 2026-06-14 21:10 -07:00 }\n',
    sound: 'window: { from: 2026-06-14 20:00 -07:00, until: 2026-06-14 20:50 -07:00 }\n',
    world:
      'aircraft: |\n  aircraft: 1\n  name: bittern-2\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 1.4 kg\n  size: 0.5 m\n  registration: { number: FA3BITT2RN, expires: 2028-03-31 }\n  remote-identification: { means: standard, serial: WAYW8BT000002 }\n',
    soundWorld:
      'aircraft: |\n  aircraft: 1\n  name: bittern-2\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 1.4 kg\n  size: 0.5 m\n  registration: { number: FA3BITT2RN, expires: 2028-03-31 }\n  remote-identification: { means: standard, serial: WAYW8BT000002 }\n',
  },

  *check(plan, { ask, world }) {
    // An aircraft that carries the light may fly at any hour, so nothing about the sun has to be known.
    const light = orLacking(() => ask(antiCollisionLight, present(world.aircraft)));
    if ('known' in light && light.known?.reachesFarEnough === true) {
      const hours = orLacking(() => ask(sunDownHours, plan));
      if ('known' in hours && hours.known.stretches.length > 0) yield { margin: marginOf(light.known, plan) };
      return;
    }
    const dark = ask(sunDownHours, plan);
    if (dark.stretches.length === 0) {
      requireWhole(dark);
      return;
    }
    if ('missing' in light) {
      requireWhole({ lacking: [light] });
      return;
    }
    const aircraft = present(world.aircraft);
    const best = light.known;
    const lacking =
      best === undefined
        ? 'the aircraft file names no flashing light'
        : `its flashing light is visible for ${sayMetresAgainst(best.visible, LIGHT_RANGE)}`;
    yield {
      found: {
        at: darkEnd(dark, plan),
        subject: 'the window',
        message: `${sayDark(dark, 'sun down', plan)}, and ${lacking}; ${LAW} require one that is visible for at least ${SAID}`,
        ...(best !== undefined && {
          measured: { value: best.visible, unit: 'm' as const },
          limit: { value: LIGHT_RANGE, unit: 'm' as const, setBy: LAW },
        }),
        sections: sectionsOf(dark, ask(nightHoursByEither, plan)),
        place: { at: dark.at },
        related: [{ at: best?.light.span ?? aircraft.nameSpan, message: lacking }],
        fixes: stayInLight(dark, plan),
      },
    };
  },
});
