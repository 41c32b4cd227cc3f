import { NotAssessed } from '../facts/fact.ts';
import { requireWhole } from '../facts/lacking.ts';
import { visibilityInWindow } from '../facts/weather-in-window.ts';
import { defineRule } from '../rulebook/rule.ts';
import { LENGTH_UNITS } from '../units/convert.ts';
import { fallsShortOf } from '../units/exceeds.ts';
import { metres } from '../units/frames.ts';
import { sayMetresAgainst } from '../units/say.ts';

const LIMIT = metres(3 * LENGTH_UNITS.mi);
const LAW = '14 CFR 107.51(c)';
const SAID = '4828.032 m (3 statute miles)';

export default defineRule({
  visits: 'plan',
  title: 'the visibility is below the minimum',
  question: 'What weather?',
  level: { 'us-part-107': 'stop' },
  basis: 'law',
  why: 'In haze another aircraft comes out of nothing, and the small one is lost to the eye long before it is out of range. Three miles leave time to see and to give way.',
  condition:
    'The visibility in the window of the flight is at least 3 statute miles (4828.032 m): by hand, else by every report that counts for the window. The least that a forecast allows for counts, in its temporary and probable changes, too. `M1/4SM` is less than a quarter of a mile, `P6SM` and `9999` at least 6 miles and 10 km; 4800 m are less than 3 statute miles, 4900 m are more.',
  exceptions: 'Reports stand in for the flight visibility at the control station, which the pilot judges there.',
  mend: 'Wait for better visibility, or move the window to hours for which it is forecast.',
  sources: [{ cite: '14 CFR 107.51(c)', edition: '2026-01-01', for: ['us-part-107'] }],
  needs: ['weather'],
  waivable: ['14 CFR 107.51(c)'],
  example: {
    faulty: 'weather: { wind: { from: 240 deg, speed: 3 m/s }, visibility: 4800 m, cloud-base: none }\n',
    sound: 'weather: { wind: { from: 240 deg, speed: 3 m/s }, visibility: 4900 m, cloud-base: none }\n',
  },

  *check(plan, { ask }) {
    const visibility = ask(visibilityInWindow, plan);
    const sure = (bounds: { readonly most?: number }): number => bounds.most ?? Number.POSITIVE_INFINITY;
    const [worst] = [...visibility.values].sort((one, other) => sure(one.value) - sure(other.value));
    const limit = { value: LIMIT, unit: 'm', setBy: LAW } as const;
    if (worst !== undefined) {
      const { least, most } = worst.value;
      if (most !== undefined && fallsShortOf(most, LIMIT)) {
        const atMost = least < most ? 'less than ' : '';
        yield {
          found: {
            at: worst.at,
            subject: 'the visibility',
            message: `${worst.by} gives a visibility of ${atMost}${sayMetresAgainst(most, LIMIT)} ("${worst.written}"); ${LAW} requires at least ${SAID}`,
            measured: { value: most, unit: 'm' },
            limit,
          },
        };
      } else if (fallsShortOf(least, LIMIT)) {
        throw new NotAssessed(`"${worst.written}" in ${worst.by} does not tell whether the visibility is ${SAID}`);
      } else {
        yield {
          margin: {
            subject: 'the visibility',
            at: worst.at,
            measured: { value: least, unit: 'm' },
            limit,
            room: least - LIMIT,
          },
        };
      }
    }
    requireWhole(visibility);
  },
});
