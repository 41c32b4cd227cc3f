import { NotAssessed } from '../facts/fact.ts';
import { requireWhole } from '../facts/lacking.ts';
import { timeline } from '../facts/timeline.ts';
import { sayFlight, sayMinutes } from '../rulebook/flight-words.ts';
import { legByLeg } from '../rulebook/leg-by-leg.ts';
import { defineRule } from '../rulebook/rule.ts';
import { replace } from '../rulebook/words.ts';
import { sayTime } from '../units/calendar.ts';
import { lastsLongerThan } from '../units/exceeds.ts';
import { instant, seconds } from '../units/frames.ts';
import { decimalsToTell } from '../units/say.ts';

const MINUTE = 60_000;

export default defineRule({
  visits: 'flight',
  title: 'a flight lasts longer than its window',
  question: 'Will it come home?',
  level: 'stop',
  basis: 'declared',
  why: 'Light, papers, zones, weather and restrictions are judged for the window. A flight that lands after its end is in the air when nothing of that was looked at, and a crew in a hurry makes mistakes.',
  condition:
    'From the beginning of its window, or from the landing of the flight before and the change of battery, to its end is at least as long as the flight lasts in the worst wind of the window: climb, legs, turns, waits, areas and descent.',
  mend: 'Give the window a later end, or make the flight shorter.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: ['aircraft', 'weather'],
  example: {
    faulty: 'window: { from: 2026-06-14 06:40 -07:00, until: 2026-06-14 06:41 -07:00 }\n',
    sound: 'window: { from: 2026-06-14 06:40 -07:00, until: 2026-06-14 06:50 -07:00 }\n',
  },

  *check(flight, tools) {
    const { ask, plan } = tools;
    const own = flight.first.window;
    const [from, until] = [own?.from ?? plan.window?.from, own?.until ?? plan.window?.until];
    // A window that runs backwards is told as that.
    if (from === undefined || until === undefined || until.value.at <= from.value.at) {
      if (from === undefined || until === undefined)
        throw new NotAssessed('the window is missing or could not be read');
      return;
    }
    yield* legByLeg(flight, tools);
    const times = ask(timeline, flight);
    const there = seconds(Math.max(0, until.value.at - times.start) / 1000);
    // What is known of a flight lasts at least so long.
    const lasts = Number.isFinite(times.longest) ? times.longest : times.shortest;
    const subject = sayFlight(flight, tools);
    const limit = {
      value: there,
      unit: 's',
      setBy: `this plan (${own?.until === undefined ? '' : 'take-off '}window)`,
    } as const;
    const measured = { value: lasts, unit: 's' } as const;
    if (!lastsLongerThan(lasts, there)) {
      yield { margin: { subject, at: until.span, measured, limit, room: there - lasts } };
      requireWhole(times);
      return;
    }
    const decimals = decimalsToTell(lasts / 60, there / 60);
    const end = {
      at: instant(Math.ceil((times.start + lasts * 1000) / MINUTE) * MINUTE),
      offsetMinutes: until.value.offsetMinutes,
    };
    const alone = plan.flights.length === 1;
    yield {
      found: {
        at: until.span,
        subject,
        message: `${subject} lasts ${Number.isFinite(times.longest) ? '' : 'at least '}${sayMinutes(lasts, decimals)}; ${limit.setBy} has ${sayMinutes(there, decimals)} for it`,
        measured,
        limit,
        related: [{ at: from.span, message: 'the window begins here' }],
        fixes: alone
          ? [
              {
                title: `End the window at ${sayTime(end)} (was ${sayTime(until.value)})`,
                effect: 'changes-flight',
                edits: [replace(until.span, sayTime(end))],
              },
            ]
          : [],
      },
    };
  },
});
