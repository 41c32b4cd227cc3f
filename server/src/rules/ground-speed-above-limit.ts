import { isAlwaysSlower } from '../facts/always-slower.ts';
import { flownSpeed } from '../facts/flown-speed.ts';
import type { Amount, Leg } from '../plan/model.ts';
import type { Fix } from '../rulebook/finding.ts';
import { defineRule } from '../rulebook/rule.ts';
import { LENGTH_UNITS, SPEED_UNITS } from '../units/convert.ts';
import { exceeds } from '../units/exceeds.ts';
import { type MetresPerSecond, metresPerSecond } from '../units/frames.ts';
import { decimalsToTell, sayNumber } from '../units/say.ts';

const LIMIT = metresPerSecond(87 * SPEED_UNITS.kt);
/** The figure in brackets: 100 mph is 0.05 m/s less than 87 knots. */
const OTHER_READING = metresPerSecond((100 * LENGTH_UNITS.mi) / 3600);

/** In whole units of the pilot's, so that what is flown is within both readings. */
const slowerBy = (leg: Leg, written: Amount<MetresPerSecond>, by: MetresPerSecond): readonly Fix[] => {
  const unit = written.unit in SPEED_UNITS ? (written.unit as keyof typeof SPEED_UNITS) : 'm/s';
  const least = Math.floor((written.value - by) / SPEED_UNITS[unit]);
  if (least <= 0) return [];
  const frame = leg.to.leg?.speedIs === undefined ? '' : ` ${leg.to.leg.speedIs}`;
  const text = `${least} ${unit}${frame}`;
  const was = `${sayNumber(written.number, 4)} ${unit}${frame}`;
  return [
    {
      title: `Slow the leg to ${text} (was ${was})`,
      effect: 'changes-flight',
      edits: [{ span: written.span, text }],
    },
  ];
};

export default defineRule({
  visits: 'leg',
  title: 'a leg is flown faster over the ground than the limit',
  question: 'How fast?',
  level: { 'us-part-107': 'stop' },
  basis: 'law',
  why: 'A small aircraft at speed hits hard and leaves nobody time to see and avoid it. The limit is a speed over the ground, so a tailwind adds to it, and the airspeed indication says nothing about it.',
  condition:
    'The speed over the ground is not more than 87 knots (44.76 m/s, 100 mph). A speed through the air is taken with every wind that the plan or its reports give for the window, and with its gust. A leg without a speed is taken at the cruise speed of the aircraft file; it needs no wind where the aircraft’s greatest speed and the greatest wind it may fly in stay below the limit together.',
  mend: 'Slow the leg down, or write its speed over ground.',
  otherReading: '87 knots are 100.12 mph. This tool stops above 87 knots and cautions above 100 mph.',
  sources: [{ cite: '14 CFR 107.51(a)', edition: '2026-01-01' }],
  needs: ['weather'],
  waivable: ['14 CFR 107.51(a)'],
  example: {
    faulty:
      'route:\n  - take-off: home\n  - point: east-bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n    leg: { speed: 90 kt over ground }\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n  - point: east-bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n    leg: { speed: 16 kt over ground }\n  - land: home\n',
  },

  *check(leg, tools) {
    const written = leg.to.leg?.speed;
    if (written === undefined && isAlwaysSlower(OTHER_READING, tools)) return;
    const speed = tools.ask(flownSpeed, leg);
    if (speed.kind === 'cannot-hold') return;
    const at = written?.span ?? leg.to.id.span;
    const name = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
    const measured = { value: speed.fastest, unit: 'm/s', frame: 'over ground' } as const;
    const limit = { value: LIMIT, unit: 'm/s', frame: 'over ground', setBy: '14 CFR 107.51(a)' } as const;
    if (!exceeds(speed.fastest, OTHER_READING)) {
      yield { margin: { subject: name, at, measured, limit, room: LIMIT - speed.fastest } };
      return;
    }
    const beyond = exceeds(speed.fastest, LIMIT);
    const knots = speed.fastest / SPEED_UNITS.kt;
    const how = speed.kind === 'from-wind' ? ` in the ${speed.fastestIn} of ${speed.by}` : '';
    yield {
      found: {
        at,
        ...(beyond ? {} : { level: 'caution' as const }),
        subject: name,
        message: beyond
          ? `${name} is flown at ${sayNumber(knots, decimalsToTell(knots, 87))} kt (${sayNumber(speed.fastest, decimalsToTell(speed.fastest, LIMIT, 2))} m/s) over ground${how}; 14 CFR 107.51(a) allows at most 87 kt (44.76 m/s)`
          : `${name} is flown at ${sayNumber(speed.fastest, 3)} m/s over ground${how}, within 87 kt but above 100 mph (44.704 m/s), both of which stand in 14 CFR 107.51(a)`,
        measured,
        limit,
        fixes: written === undefined ? [] : slowerBy(leg, written, metresPerSecond(speed.fastest - OTHER_READING)),
      },
    };
  },
});
