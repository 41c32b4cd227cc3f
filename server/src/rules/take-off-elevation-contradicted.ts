import { elevationGap } from '../facts/elevation-gap.ts';
import type { FactTools } from '../facts/fact.ts';
import { orLacking } from '../facts/lacking.ts';
import { type TakeOffElevation, takeOffElevation } from '../facts/take-off-elevation.ts';
import type { Item } from '../plan/model.ts';
import { defineRule } from '../rulebook/rule.ts';
import { LENGTH_UNITS } from '../units/convert.ts';
import { metres } from '../units/frames.ts';
import { sayLength, sayNumber } from '../units/say.ts';

const writtenFor = (first: Item, tools: FactTools): TakeOffElevation['written'] => {
  const elevation = orLacking(() => tools.ask(takeOffElevation, first));
  return 'known' in elevation ? elevation.known.written : undefined;
};

export default defineRule({
  visits: 'flight',
  title: 'the take-off elevation does not fit the terrain',
  question: 'Does the plan say what I mean?',
  level: 'caution',
  basis: 'declared',
  why: 'Every height above take-off hangs on this one number. Feet written as metres, or a position a ridge away, lift or sink the whole flight.',
  condition:
    'The elevation in the plan is within 5 m and the stated error of the terrain of the ground at the take-off place.',
  mend: 'Correct the elevation, its unit, or the position of the take-off.',
  sources: [{ cite: 'allowance of 5 m', edition: '1', trust: 'common practice, no source' }],
  needs: ['terrain'],
  example: {
    faulty: 'site: { take-off: { lat: 47.5, lon: -120.5, elevation: 430 m } }\n',
    sound: 'site: { take-off: { lat: 47.5, lon: -120.5, elevation: 402 m } }\n',
  },

  *check(flight, tools) {
    const gap = elevationGap(flight.first, tools);
    const { written } = tools.ask(takeOffElevation, flight.first);
    if (gap === undefined || written === undefined) return;
    // Flights that start from one place share its elevation: one number, one finding.
    const isFirst = tools.plan.flights.every(
      (other) => other.number >= flight.number || writtenFor(other.first, tools) !== written,
    );
    if (!isFirst) return;
    const unit = written.unit === 'ft' ? 'ft' : 'm';
    // The number of the plan read in the other unit, when that fits the ground: feet and metres were exchanged.
    const other = unit === 'm' ? 'ft' : 'm';
    const fitsOther = Math.abs(metres(written.number * LENGTH_UNITS[other]) - gap.ground) < 10;
    const text = fitsOther ? `${sayNumber(written.number, 4)} ${other}` : sayLength(gap.ground, unit, 0);
    yield {
      found: {
        at: gap.at,
        subject: `take-off ${flight.first.id.value}`,
        message: `the take-off elevation is ${sayNumber(written.value)} m above mean sea level in the plan, but the ground there is ${sayNumber(gap.ground)} m above mean sea level by the terrain of the plan`,
        measured: { value: written.value, unit: 'm', frame: 'above sea' },
        limit: { value: gap.ground, unit: 'm', frame: 'above sea', setBy: 'the terrain of the plan' },
        fixes: [
          {
            title: `Write "${text}" (was "${sayNumber(written.number, 4)} ${written.unit}")`,
            effect: 'changes-flight',
            edits: [{ span: gap.at, text }],
          },
        ],
      },
    };
  },
});
