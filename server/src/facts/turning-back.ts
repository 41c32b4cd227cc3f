import type { Flight, Leg } from '../plan/model.ts';
import { takesMoreThan } from '../units/exceeds.ts';
import { instant, type LonLat, type Metres, type MetresPerSecond, metres, type Share, share } from '../units/frames.ts';
import { isMissing, type Missing } from '../world/world.ts';
import { defineFact, type FactTools } from './fact.ts';
import { flightEnergy, type StageEnergy } from './flight-energy.ts';
import { orLacking, type Partly } from './lacking.ts';
import { pathOfLeg } from './leg-path.ts';
import { legTimes, type TimeBand } from './timeline.ts';
import { areaWaysDown, legWaysDown, type WayDown, waysDownFromLeg } from './way-home.ts';

/** A place of a flight with what is left there and what a way down takes. */
export interface Turning {
  /** "leg mill to weir", "area roof" */
  readonly subject: string;
  readonly step: StageEnergy;
  readonly left: Share;
  readonly way: WayDown;
  readonly at: LonLat;
  /** Metres from the start of its leg; absent in an area. */
  readonly along?: Metres;
}

/** Where the way home first takes more than is left. */
export interface PointOfNoReturn extends Turning {
  /** When the craft passes it; undefined where the plan has no window. */
  readonly time?: TimeBand;
}

export interface TurningBack extends Partly {
  /** Where the least is left over after the way to the landing place that takes least. */
  readonly tightest?: Turning;
  /** The same for the way home. */
  readonly tightestHome?: Turning;
  readonly noReturn?: PointOfNoReturn;
}

const over = ({ left, way }: Turning): number => left - way.energy;

const tighter = (one: Turning | undefined, other: Turning): Turning =>
  one === undefined || over(other) < over(one) - 1e-9 ? other : one;

const nameOf = (leg: Leg): string => `leg ${leg.from.id.value} to ${leg.to.id.value}`;

/** What is left so many metres along a leg: it falls evenly. */
const leftAt = ({ before, after }: StageEnergy, along: number, length: number): Share =>
  share(length > 0 ? before + ((after - before) * along) / length : after);

/** Halvings that bring a leg of any length below a millimetre. */
const HALVINGS = 40;

/** Where on a leg that begins within reach of home and ends outside the way home takes all that is left. */
const crossing = (leg: Leg, step: StageEnergy, airSpeed: MetresPerSecond, tools: FactTools): number => {
  const { length } = tools.ask(pathOfLeg, leg);
  let within = 0;
  let beyond: number = length;
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (within + beyond) / 2;
    const { home } = waysDownFromLeg(leg, middle, airSpeed, tools);
    if (home.energy > leftAt(step, middle, length)) beyond = middle;
    else within = middle;
  }
  return within;
};

const timeAt = (leg: Leg, part: number, tools: FactTools): TimeBand | undefined => {
  const times = orLacking(() => legTimes(leg, tools));
  if (isMissing(times)) return undefined;
  const { departure, arrival } = times.known;
  const between = (from: number, until: number) => instant(from + (until - from) * part);
  return {
    earliest: between(departure.earliest, arrival.earliest),
    latest: between(departure.latest, arrival.latest),
  };
};

const noReturnOn = (leg: Leg, beyond: Turning, reached: boolean, tools: FactTools): PointOfNoReturn => {
  const { step, way } = beyond;
  const path = tools.ask(pathOfLeg, leg);
  const along = reached ? crossing(leg, step, way.airSpeed, tools) : 0;
  const time = timeAt(leg, path.length > 0 ? along / path.length : 0, tools);
  return {
    subject: nameOf(leg),
    step,
    left: leftAt(step, along, path.length),
    way: waysDownFromLeg(leg, along, way.airSpeed, tools).home,
    at: path.at(along),
    along: metres(along),
    ...(time !== undefined && { time }),
  };
};

/** Of the speeds for the way home the one with the most left over at the worst of a stage's places. */
const atBestSpeed = (options: readonly (readonly Turning[])[]): readonly Turning[] => {
  const worst = (turnings: readonly Turning[]): number => Math.min(...turnings.map(over));
  const [first = [], ...others] = options;
  return others.reduce((best, option) => (worst(option) > worst(best) + 1e-9 ? option : best), first);
};

/** The places of a stage that decide, since between them nothing is tighter. */
const turnings = (
  step: StageEnergy,
  flight: Flight,
  tools: FactTools,
): { readonly home: readonly Turning[]; readonly nearest: readonly Turning[] } => {
  const { kind, leg, item } = step.stage;
  if (kind === 'area') {
    const options = areaWaysDown(item, flight, tools);
    const here = (way: WayDown): readonly Turning[] => [
      { subject: `area ${item.id.value}`, step, left: step.after, way, at: way.from },
    ];
    return {
      home: atBestSpeed(options.map(({ home }) => here(home))),
      nearest: atBestSpeed(options.map(({ nearest }) => here(nearest))),
    };
  }
  if (kind !== 'leg' || leg === undefined) return { home: [], nearest: [] };
  const path = tools.ask(pathOfLeg, leg);
  const options = tools.ask(legWaysDown, leg);
  const ends = (start: WayDown, end: WayDown): readonly Turning[] => [
    { subject: nameOf(leg), step, left: step.before, way: start, at: path.from, along: metres(0) },
    { subject: nameOf(leg), step, left: step.after, way: end, at: path.to, along: path.length },
  ];
  return {
    home: atBestSpeed(options.map(({ start, end }) => ends(start.home, end.home))),
    nearest: atBestSpeed(options.map(({ start, end }) => ends(start.nearest, end.nearest))),
  };
};

const isOutOfReach = ({ way, left }: Turning): boolean => takesMoreThan(way.energy, left);

/**
 * Whether a flight can turn back from anywhere: what is left against what the way home takes, and against the way to the
 * nearest landing place of the flight, from every place of its legs and areas. On a leg what is left falls evenly and the
 * way home bends upwards, so that the ends decide and the point of no return is the only crossing.
 */
export const turningBack = defineFact({
  name: 'turning-back',
  derive: (flight: Flight, tools: FactTools): TurningBack => {
    const { stages, lacking: ofFlight } = tools.ask(flightEnergy, flight);
    const lacking: Missing[] = [...ofFlight];
    let tightest: Turning | undefined;
    let tightestHome: Turning | undefined;
    let noReturn: PointOfNoReturn | undefined;
    for (const step of stages) {
      const here = orLacking(() => turnings(step, flight, tools));
      if (isMissing(here)) {
        lacking.push(here);
        continue;
      }
      const { home, nearest } = here.known;
      for (const each of nearest) tightest = tighter(tightest, each);
      for (const each of home) tightestHome = tighter(tightestHome, each);
      const beyond = home.findIndex(isOutOfReach);
      const first = home[beyond];
      if (noReturn !== undefined || first === undefined) continue;
      const { leg } = step.stage;
      noReturn = leg === undefined ? first : noReturnOn(leg, first, beyond > 0, tools);
    }
    return {
      lacking,
      ...(tightest !== undefined && { tightest }),
      ...(tightestHome !== undefined && { tightestHome }),
      ...(noReturn !== undefined && { noReturn }),
    };
  },
});
