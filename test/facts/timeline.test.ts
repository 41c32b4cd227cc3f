import { describe, expect, test } from 'vitest';
import { flightStages } from '../../server/src/facts/flight-stages.ts';
import { itemTimes, legTimes, timeline } from '../../server/src/facts/timeline.ts';
import { distance } from '../../server/src/geo/geodesy.ts';
import { readAircraft } from '../../server/src/plan/read-aircraft.ts';
import { lonLat } from '../../server/src/units/frames.ts';
import { LEVEL_GROUND, type MadePlan, madePlan, worldWith } from './made-plan.ts';

const HOME = lonLat(-120.5, 47.5);
const EAST = lonLat(-120.49, 47.5);
const LENGTH = distance(HOME, EAST);

const AIRCRAFT = 'aircraft: 1\nname: a\nclimb-rate: 4 m/s\ndescent-rate: 3 m/s\ncruise-speed: 10 m/s\n';
const SITE = 'site: { take-off: { lat: 47.5, lon: -120.5, elevation: 400 m } }\n';
const WINDOW = 'window: { from: 2026-06-14 06:40 -07:00, until: 2026-06-14 07:10 -07:00 }\n';
const FROM = Date.UTC(2026, 5, 14, 13, 40);
const UNTIL = Date.UTC(2026, 5, 14, 14, 10);

const made = (text: string, aircraft = AIRCRAFT): MadePlan =>
  madePlan(`${SITE}${text}`, worldWith([LEVEL_GROUND], { aircraft: readAircraft(aircraft, 'a.aircraft.yaml') }));

const OUT = (speed: string, more = ''): string =>
  `route:
  - take-off: home
    climb-to: 60 m AGL
  - point: east
    at: 47.5, -120.49
    altitude: 60 m AGL
${speed === '' ? '' : `    leg: { speed: ${speed} }\n`}${more}`;

const BACK = '  - land: home\n    leg: { speed: 8 m/s over ground }\n';

const flightOf = ({ plan, tools }: MadePlan, number = 1) => {
  const flight = plan.flights[number - 1];
  if (flight === undefined) throw new Error(`the test's plan has no flight ${number}`);
  return tools.ask(timeline, flight);
};

describe('the times of a flight', () => {
  test('are the climb, the legs and the descent one after the other', () => {
    const plan = made(`${WINDOW}${OUT('8 m/s over ground', BACK)}`);
    const times = flightOf(plan);
    // 60 m up at 4 m/s, out and back at 8 m/s, 60 m down at 3 m/s.
    expect(times.longest).toBeCloseTo(15 + (2 * LENGTH) / 8 + 20, 6);
    expect(times.shortest).toBeCloseTo(times.longest, 9);
    expect(times.lacking).toEqual([]);
    const { arrival } = itemTimes(plan.item('east'), plan.tools);
    expect((arrival.earliest - FROM) / 1000).toBeCloseTo(15 + LENGTH / 8, 3);
    expect((UNTIL - arrival.latest) / 1000).toBeCloseTo(LENGTH / 8 + 20, 3);
    expect(times.landing.latest).toBeCloseTo(UNTIL, 3);
    expect((UNTIL - times.takeOff.latest) / 1000).toBeCloseTo(times.shortest, 3);
    const leg = legTimes(plan.legTo('east'), plan.tools);
    expect((leg.departure.earliest - FROM) / 1000).toBeCloseTo(15, 6);
  });

  test('spread between the fastest and the slowest wind', () => {
    const weather = 'weather: { wind: { from: 270 deg, speed: 3 m/s, gust: 5 m/s } }\n';
    const plan = made(`${WINDOW}${weather}${OUT('10 m/s through air', BACK)}`);
    const { shortest, longest } = flightOf(plan);
    // From the west on an easterly course: 15 m/s in the gust, 13 m/s in the steady wind.
    expect(longest - shortest).toBeCloseTo(LENGTH / 13 - LENGTH / 15, 3);
  });

  test('take the cruise speed of the aircraft through the air where a leg states none', () => {
    const weather = 'weather: { wind: { from: 90 deg, speed: 2 m/s } }\n';
    const plan = made(`${WINDOW}${weather}${OUT('', BACK)}`);
    const { departure, arrival } = legTimes(plan.legTo('east'), plan.tools);
    expect((arrival.earliest - departure.earliest) / 1000).toBeCloseTo(LENGTH / 8, 3);
  });

  test('hold waits, areas and stops to turn', () => {
    const more = `    hold: 30 s
  - hold: 40 s
  - area: mill
    inside: { circle: 20 m, around: { lat: 47.502, lon: -120.49 } }
    from: 10 m AGL
    to: 60 m AGL
    for: 4 min
    leg: { speed: 8 m/s over ground }
${BACK}`;
    const plan = made(`${WINDOW}${OUT('8 m/s over ground', more)}`, `${AIRCRAFT}turn-time: 3 s\n`);
    const flight = plan.plan.flights[0];
    if (flight === undefined) throw new Error('no flight');
    const { stages } = plan.tools.ask(flightStages, flight);
    expect(stages.map(({ kind, longest }) => `${kind} ${Math.round(longest)}`)).toEqual([
      'climb-out 15',
      `leg ${Math.round(LENGTH / 8)}`,
      'hold 30',
      'hold 40',
      'turn 3',
      'leg 28',
      'area 240',
      'turn 3',
      expect.stringMatching(/^leg \d+$/),
      'let-down 20',
    ]);
    const { arrival, departure } = itemTimes(plan.item('east'), plan.tools);
    expect((departure.earliest - arrival.earliest) / 1000).toBeCloseTo(73, 6);
    const mill = itemTimes(plan.item('mill'), plan.tools);
    expect((mill.departure.earliest - mill.arrival.earliest) / 1000).toBeCloseTo(243, 6);
  });

  test('give a steep leg the time of its climb', () => {
    const steep = `route:
  - point: low
    at: 47.5, -120.5
    altitude: 20 m AGL
  - point: high
    at: 47.5, -120.4999
    altitude: 100 m AGL
    leg: { speed: 8 m/s over ground }
`;
    const plan = made(`${WINDOW}${steep}`);
    expect(flightOf(plan).longest).toBeCloseTo(20, 6);
  });

  test('are wide, not absent, where a speed is missing', () => {
    const plan = made(`${WINDOW}${OUT('', BACK)}`, 'aircraft: 1\nname: a\nclimb-rate: 4 m/s\ndescent-rate: 3 m/s\n');
    const times = flightOf(plan);
    expect(times.lacking).toEqual([
      {
        missing:
          'the plan gives no speed for the leg to east, and the aircraft file has no cruise-speed that could be read',
      },
    ]);
    expect(times.longest).toBe(Number.POSITIVE_INFINITY);
    const { arrival } = itemTimes(plan.item('east'), plan.tools);
    expect((arrival.earliest - FROM) / 1000).toBeCloseTo(15, 6);
    expect((UNTIL - arrival.latest) / 1000).toBeCloseTo(LENGTH / 8 + 20, 3);
  });

  test('go on past the end of a window that is too short', () => {
    const short = 'window: { from: 2026-06-14 06:40 -07:00, until: 2026-06-14 06:41 -07:00 }\n';
    const times = flightOf(made(`${short}${OUT('8 m/s over ground', BACK)}`));
    expect(times.takeOff.latest).toBe(FROM);
    expect((times.landing.latest - FROM) / 1000).toBeCloseTo(times.longest, 3);
  });

  test('cannot be told without a window', () => {
    expect(() => flightOf(made(OUT('8 m/s over ground', BACK)))).toThrow('the beginning of the window is missing');
  });
});

describe('the times of several flights', () => {
  const two = (battery: string, takeOff = ''): string =>
    `${WINDOW}${OUT('8 m/s over ground', BACK)}${battery}  - take-off: home\n    climb-to: 60 m AGL\n${takeOff}  - point: north\n    at: 47.505, -120.5\n    altitude: 60 m AGL\n    leg: { speed: 8 m/s over ground }\n${BACK}`;

  test('follow each other, with the change of battery between them', () => {
    const plan = made(two('  - battery: second set\n    for: 5 min\n'));
    const [first, second] = [flightOf(plan, 1), flightOf(plan, 2)];
    expect((second.takeOff.earliest - first.landing.earliest) / 1000).toBeCloseTo(300, 3);
    expect((second.takeOff.latest - first.landing.latest) / 1000).toBeCloseTo(300, 3);
    expect(second.landing.latest).toBeCloseTo(UNTIL, 3);
    const battery = itemTimes(plan.item('second set'), plan.tools);
    expect(battery.arrival.earliest).toBeCloseTo(first.landing.earliest, 3);
  });

  test('have their own window where they state one', () => {
    const own = '    window: { from: 2026-06-14 07:00 -07:00, until: 2026-06-14 07:08 -07:00 }\n';
    const plan = made(two('', own));
    const second = flightOf(plan, 2);
    expect(second.takeOff.earliest).toBe(Date.UTC(2026, 5, 14, 14, 0));
    expect(second.landing.latest).toBeCloseTo(Date.UTC(2026, 5, 14, 14, 8), 3);
    expect(flightOf(plan, 1).landing.latest).toBeLessThanOrEqual(second.takeOff.latest);
  });
});
