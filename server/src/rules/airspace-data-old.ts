import { ageAt } from '../facts/data-age.ts';
import { given, NotAssessed } from '../facts/fact.ts';
import { defineRule } from '../rulebook/rule.ts';
import { lastsLongerThan } from '../units/exceeds.ts';
import { type Instant, instant, seconds } from '../units/frames.ts';
import { sayCount, sayNumber } from '../units/say.ts';

const DAY = 86_400;

/** Airspace is published anew every 28 days (ICAO Annex 15, from memory). Common practice for when to fetch it again. */
const CYCLE = 28;

export default defineRule({
  visits: 'plan',
  title: 'the airspace data are older than a cycle of publication',
  question: 'May I fly here?',
  level: 'caution',
  basis: 'practice',
  why: 'Zones move, and new ones are published every four weeks. A flight that keeps out of the zones of last season can enter one of this.',
  condition:
    'Each airspace file of the plan was retrieved not more than 28 days before the flight begins, or than what the house has set (`airspace-age`). A file that does not say when it was retrieved counts from the time of the file.',
  mend: 'Fetch the file again from its publisher and let `retrieved` in it say when.',
  sources: [
    { cite: 'the cycle of 28 days, ICAO Annex 15', edition: 'not dated', trust: 'from memory' },
    { cite: 'fetching airspace once a cycle', edition: '2026-11-25', trust: 'common practice, no source' },
  ],
  needs: ['airspace'],
  example: {
    faulty: 'restrictions: { none-found: notices of the area, seen: 2026-06-13, by: pilot }\n',
    sound: 'restrictions: { none-found: notices of the area, seen: 2026-06-13, by: pilot }\n',
    world:
      'settings: |\n  settings: 1\n  limits: { airspace-age: { is: 1 d, because: the tower moves its zones often } }\n',
  },

  *check(plan, { world, settings, now }) {
    const house = settings.limits.airspaceAge;
    const most = house === undefined ? CYCLE : house.value.value / DAY;
    const setBy = house === undefined ? 'common practice' : 'the house (waywarden.settings.yaml)';
    let open: { readonly reason: string; readonly due?: Instant } | undefined;
    for (const reference of plan.airspace) {
      const source = world.data.find(({ name }) => name === reference.value);
      // A file that could not be opened is told on its reference.
      if (source === undefined) continue;
      const from = given(plan.window?.from, 'the beginning of the window').value;
      const age = ageAt(source, from.at);
      if (age === undefined) {
        open ??= { reason: `airspace "${reference.value}" does not say when it was retrieved` };
        continue;
      }
      if (!lastsLongerThan(seconds(age * DAY), seconds(most * DAY))) continue;
      const days = sayCount(Number(sayNumber(age)), 'day');
      const due = instant(from.at - most * DAY * 1000);
      if (now < due) {
        const reason = `airspace "${reference.value}" will be ${days} old at take-off; ${setBy} takes at most ${sayCount(most, 'day')}`;
        open ??= { reason, due };
        continue;
      }
      yield {
        found: {
          at: reference.span,
          subject: `airspace ${reference.value}`,
          message: `airspace "${reference.value}" (edition ${source.edition}) will be ${days} old at take-off; ${setBy} takes at most ${sayCount(most, 'day')}`,
          measured: { value: age, unit: 'days' },
          limit: { value: most, unit: 'days', setBy },
          ...(house === undefined ? {} : { related: [{ at: house.span, message: 'the house set the limit here' }] }),
        },
      };
    }
    if (open !== undefined) throw new NotAssessed(open.reason, open.due);
  },
});
