import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { flightEnergy } from '../../server/src/facts/flight-energy.ts';
import { legTime } from '../../server/src/facts/leg-time.ts';
import { turningBack } from '../../server/src/facts/turning-back.ts';
import { legWaysDown, waysDownFromLeg } from '../../server/src/facts/way-home.ts';
import { destination, inverse } from '../../server/src/geo/geodesy.ts';
import { readAircraft } from '../../server/src/plan/read-aircraft.ts';
import { type LonLat, lonLat, metresPerSecond } from '../../server/src/units/frames.ts';
import { LEVEL_GROUND, type MadePlan, madePlan, worldWith } from './made-plan.ts';

const HOME = lonLat(-120.5, 47.5);

interface Draft {
  readonly points: readonly { readonly course: number; readonly far: number; readonly height: number }[];
  readonly air: number;
  readonly windFrom: number;
  readonly wind: number;
  readonly climbTo: number;
  readonly nominal: number;
}

const CLIMB = 4;
const DESCENT = 3;
const HOVER = 150;
const CLIMBING = 220;

const AIRCRAFT = (air: number, nominal: number): string => `aircraft: 1
name: a
kind: multirotor
cruise-speed: ${air} m/s
climb-rate: ${CLIMB} m/s
descent-rate: ${DESCENT} m/s
battery: { nominal: ${nominal} Wh, usable: 100 %, temperature: 20 C }
power: { hover: ${HOVER} W, cruise: [170 W at 8 m/s, 240 W at 20 m/s], climb: ${CLIMBING} W }
tried: { density-altitude: 4000 m }
`;

const placeOf = ({ course, far }: Draft['points'][number]): LonLat => destination(HOME, course, far);

const write = (draft: Draft): string => {
  const points = draft.points
    .map((point, i) => {
      const { lat, lon } = placeOf(point);
      return `  - point: p${i}\n    at: ${lat.toFixed(9)}, ${lon.toFixed(9)}\n    altitude: ${point.height} m AMSL\n    leg: { speed: ${draft.air} m/s through air }\n`;
    })
    .join('');
  return `site: { take-off: { lat: 47.5, lon: -120.5, elevation: 400 m } }
window: { from: 2026-06-14 06:40 -07:00, until: 2026-06-14 12:40 -07:00 }
weather: { wind: { from: ${draft.windFrom} deg, speed: ${draft.wind} m/s }, temperature: 15 C, qnh: 1013 hPa }
lost-link: { after: 4 s, climb-to: ${draft.climbTo} m above take-off, then: fly back and land }
route:
  - take-off: home
    climb-to: 450 m AMSL
${points}  - land: home
    leg: { speed: ${draft.air} m/s through air }
`;
};

const made = (draft: Draft): MadePlan =>
  madePlan(
    write(draft),
    worldWith([LEVEL_GROUND], { aircraft: readAircraft(AIRCRAFT(draft.air, draft.nominal), 'a.aircraft.yaml') }),
  );

const drafts: fc.Arbitrary<Draft> = fc.record({
  points: fc.array(
    fc.record({
      course: fc.integer({ min: 0, max: 359 }),
      far: fc.integer({ min: 60, max: 900 }),
      height: fc.integer({ min: 410, max: 510 }),
    }),
    { minLength: 1, maxLength: 3 },
  ),
  air: fc.integer({ min: 8, max: 18 }),
  windFrom: fc.integer({ min: 0, max: 359 }),
  wind: fc.integer({ min: 0, max: 7 }),
  climbTo: fc.integer({ min: 0, max: 150 }),
  nominal: fc.integer({ min: 12, max: 90 }),
});

/** Power in level flight as the aircraft file has it, by the straight lines between its figures. */
const power = (air: number): number =>
  air <= 8 ? HOVER + ((170 - HOVER) * air) / 8 : 170 + ((240 - 170) * (air - 8)) / 12;

/** One step of a craft that holds its track to a place against the wind: seconds, on a plane around where it is. */
const STEP = 0.05;

/**
 * Flies from one place to another in small steps: it heads so that its way over the ground leads to the goal, and what it
 * takes is summed up step by step. Returns seconds and joules, and tells each place on the way.
 */
const flySteps = (
  from: LonLat,
  to: LonLat,
  { air, windFrom, wind }: Draft,
  look: (at: LonLat, seconds: number) => void = () => undefined,
): number => {
  let at = from;
  let time = 0;
  for (let i = 0; i < 200_000; i++) {
    const { length, course } = inverse(at, to);
    // The wind blows towards windFrom + 180; the craft's own vector is what brings the sum onto the course.
    const east = -wind * Math.sin((windFrom * Math.PI) / 180);
    const north = -wind * Math.cos((windFrom * Math.PI) / 180);
    const [ux, uy] = [Math.sin((course * Math.PI) / 180), Math.cos((course * Math.PI) / 180)];
    const across = east * uy - north * ux;
    const ground = east * ux + north * uy + Math.sqrt(air * air - across * across);
    if (length <= ground * STEP) return time + length / ground;
    at = destination(at, course, ground * STEP);
    time += STEP;
    look(at, time);
  }
  throw new Error('never arrived');
};

/** Energy of the way home by steps, in J: the wait, the climb, the way, the descent. */
const homeBySteps = (at: LonLat, altitude: number, draft: Draft): number => {
  const top = Math.max(altitude, 400 + draft.climbTo);
  const way = flySteps(at, HOME, draft) * power(draft.air);
  const wait = 4 * Math.max(HOVER, power(draft.wind));
  return wait + ((top - altitude) / CLIMB) * CLIMBING + way + ((top - 400) / DESCENT) * HOVER;
};

describe('the way home against a simulation in small steps', () => {
  test('from both ends of each leg it takes as much, to 0.1 %', () => {
    fc.assert(
      fc.property(drafts, (draft) => {
        const { plan, tools } = made(draft);
        const usable = draft.nominal * 3600;
        for (const leg of plan.flights[0]?.legs ?? []) {
          const [ways] = tools.ask(legWaysDown, leg);
          const point = draft.points[Number(leg.to.id.value.slice(1))];
          if (leg.to.kind !== 'point' || point === undefined || ways === undefined) continue;
          const stepped = homeBySteps(placeOf(point), point.height, draft);
          const closed = ways.end.home.energy * usable;
          expect(Math.abs(closed - stepped)).toBeLessThan(0.001 * stepped + 2);
        }
      }),
      { numRuns: 25 },
    );
  });

  test('is never less severe on the way than at the ends: the ends decide, to 0.1 % of the battery', () => {
    fc.assert(
      fc.property(drafts, (draft) => {
        const { plan, tools } = made(draft);
        const [flight] = plan.flights;
        if (flight === undefined) throw new Error('no flight');
        const { stages } = tools.ask(flightEnergy, flight);
        const { tightestHome } = tools.ask(turningBack, flight);
        const least = (tightestHome?.left ?? 0) - (tightestHome?.way.energy ?? 0);
        for (const step of stages) {
          const { leg } = step.stage;
          if (leg === undefined) continue;
          for (let part = 0; part <= 1; part += 0.1) {
            const along = part * legLength(leg, tools);
            const { home } = waysDownFromLeg(leg, along, metresPerSecond(draft.air), tools);
            const left = step.before + (step.after - step.before) * part;
            expect(left - home.energy).toBeGreaterThanOrEqual(least - 0.001);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  test('the flight itself takes as long and as much as in small steps, to 0.1 %', () => {
    fc.assert(
      fc.property(drafts, (draft) => {
        const { plan, tools } = made(draft);
        const [flight] = plan.flights;
        if (flight === undefined) throw new Error('no flight');
        let joules = (50 / CLIMB) * CLIMBING;
        let from = HOME;
        let altitude = 450;
        const places = [...draft.points.map((point) => ({ at: placeOf(point), height: point.height })), undefined];
        for (const place of places) {
          const to = place?.at ?? HOME;
          const height = place?.height ?? altitude;
          const level = flySteps(from, to, draft);
          const up = Math.max(0, height - altitude) / CLIMB;
          const down = Math.max(0, altitude - height) / DESCENT;
          const time = Math.max(level, up + down);
          joules += up * Math.max(CLIMBING, power(draft.air)) + (time - up) * power(draft.air);
          [from, altitude] = [to, height];
        }
        joules += ((altitude - 400) / DESCENT) * HOVER;
        const { used, lacking } = tools.ask(flightEnergy, flight);
        expect(lacking).toEqual([]);
        const closed = used * draft.nominal * 3600;
        expect(Math.abs(closed - joules)).toBeLessThan(0.001 * joules + 2);
      }),
      { numRuns: 25 },
    );
  });
});

const legLength = (leg: Parameters<typeof waysDownFromLeg>[0], tools: MadePlan['tools']): number => {
  const { start, end } = tools.ask(legWaysDown, leg)[0] ?? {};
  return start === undefined || end === undefined ? 0 : inverse(start.home.from, end.home.from).length;
};

describe('the point of no return', () => {
  test('lies where the way home by small steps takes what is left, to 0.1 %', () => {
    let looked = 0;
    fc.assert(
      fc.property(drafts, (draft) => {
        const oneWay = { ...draft, points: draft.points.slice(0, 1), nominal: 4 + (draft.nominal % 5) };
        const { plan, tools } = made(oneWay);
        const [flight] = plan.flights;
        const [point] = oneWay.points;
        if (flight === undefined || point === undefined) throw new Error('no flight');
        const { noReturn } = tools.ask(turningBack, flight);
        if (noReturn?.along === undefined || noReturn.along === 0) return;
        const { leg } = noReturn.step.stage;
        if (leg === undefined || leg.to.id.value !== 'p0') return;
        looked++;
        const part = noReturn.along / legLength(leg, tools);
        const altitude = 450 + (point.height - 450) * part;
        const usable = oneWay.nominal * 3600;
        const stepped = homeBySteps(noReturn.at, altitude, oneWay);
        expect(Math.abs(stepped - noReturn.left * usable)).toBeLessThan(0.001 * stepped + 2);
      }),
      { numRuns: 200 },
    );
    expect(looked).toBeGreaterThan(5);
  });
});

describe('laws of the wind', () => {
  test('at a fixed airspeed more headwind never shortens a leg', () => {
    fc.assert(
      fc.property(drafts, fc.integer({ min: 0, max: 6 }), (draft, wind) => {
        const [point] = draft.points;
        if (point === undefined) return;
        const head = { ...draft, points: [point], windFrom: point.course };
        const time = (speed: number): number => {
          const { tools, legTo } = made({ ...head, wind: speed });
          return tools.ask(legTime, legTo('p0')).longest;
        };
        expect(time(wind + 1)).toBeGreaterThanOrEqual(time(wind) - 1e-6);
      }),
      { numRuns: 60 },
    );
  });

  test('the energy of the way home never falls when the headwind on it rises', () => {
    fc.assert(
      fc.property(drafts, fc.integer({ min: 0, max: 6 }), (draft, wind) => {
        const [point] = draft.points;
        if (point === undefined) return;
        const head = { ...draft, points: [point], windFrom: (point.course + 180) % 360 };
        const energy = (speed: number): number => {
          const { tools, legTo } = made({ ...head, wind: speed });
          return Math.min(...tools.ask(legWaysDown, legTo('p0')).map(({ end }) => end.home.energy));
        };
        expect(energy(wind + 1)).toBeGreaterThanOrEqual(energy(wind) - 1e-9);
      }),
      { numRuns: 60 },
    );
  });

  test('a gust on top of the wind never leaves more over', () => {
    fc.assert(
      fc.property(drafts, fc.integer({ min: 1, max: 4 }), (draft, gust) => {
        const leftOver = (text: string): number => {
          const { plan, tools } = madePlan(
            text,
            worldWith([LEVEL_GROUND], { aircraft: readAircraft(AIRCRAFT(draft.air, draft.nominal), 'a') }),
          );
          const [flight] = plan.flights;
          if (flight === undefined) throw new Error('no flight');
          const { tightestHome } = tools.ask(turningBack, flight);
          return (tightestHome?.left ?? 0) - (tightestHome?.way.energy ?? 0);
        };
        const calm = { ...draft, wind: Math.min(draft.wind, 3) };
        const gusty = write(calm).replace(
          `speed: ${calm.wind} m/s }, temp`,
          `speed: ${calm.wind} m/s, gust: ${calm.wind + gust} m/s }, temp`,
        );
        expect(gusty).not.toBe(write(calm));
        expect(leftOver(gusty)).toBeLessThanOrEqual(leftOver(write(calm)) + 1e-9);
      }),
      { numRuns: 40 },
    );
  });

  test('an older battery never leaves more', () => {
    fc.assert(
      fc.property(drafts, fc.integer({ min: 50, max: 99 }), (draft, health) => {
        const used = (aircraft: string): number => {
          const { plan, tools } = madePlan(
            write(draft),
            worldWith([LEVEL_GROUND], { aircraft: readAircraft(aircraft, 'a') }),
          );
          const [flight] = plan.flights;
          if (flight === undefined) throw new Error('no flight');
          return tools.ask(flightEnergy, flight).used;
        };
        const fresh = AIRCRAFT(draft.air, draft.nominal);
        const old = fresh.replace('usable: 100 %,', `usable: 100 %, health: ${health} %,`);
        expect(used(old)).toBeGreaterThan(used(fresh));
      }),
      { numRuns: 30 },
    );
  });
});
