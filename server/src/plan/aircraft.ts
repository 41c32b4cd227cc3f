import type { Anchor, Span, Written } from '../text/span.ts';
import type { CalendarDate } from '../units/calendar.ts';
import type {
  Celsius,
  Degrees,
  Joules,
  Kilograms,
  Metres,
  MetresPerSecond,
  Seconds,
  Share,
  SquareMetres,
  Watts,
} from '../units/frames.ts';
import type { Camera } from './camera.ts';
import type { Amount } from './model.ts';
import type { Slip } from './slip.ts';

/** An aircraft file as read. As in a plan, what is missing or could not be read is absent here. */
export interface Aircraft {
  readonly document: string;
  readonly anchor: Anchor;
  readonly name?: Written<string>;
  readonly kind?: Written<'multirotor' | 'fixed-wing'>;
  /** Take-off mass with battery and everything attached. */
  readonly mass?: Amount<Kilograms>;
  /** Largest dimension: rotor tip to rotor tip, or wing span. */
  readonly size?: Amount<Metres>;
  /** Range of the command link as its maker rates it. */
  readonly linkRange?: Amount<Metres>;
  readonly maxSpeed?: Amount<MetresPerSecond>;
  /** Through the air, where a leg states no speed, and on the way home. */
  readonly cruiseSpeed?: Amount<MetresPerSecond>;
  readonly climbRate?: Amount<MetresPerSecond>;
  readonly descentRate?: Amount<MetresPerSecond>;
  /** Time at each corner; absent = none counted. */
  readonly turnTime?: Amount<Seconds>;
  readonly maxWind?: Amount<MetresPerSecond>;
  /** Highest density altitude at which it may fly. */
  readonly maxDensityAltitude?: Amount<Metres>;
  readonly endurance?: Amount<Seconds>;
  readonly battery?: Battery;
  readonly power?: FlightPower;
  /** What endurance and power were tried with. */
  readonly tried?: Tried;
  readonly reserve?: Amount<Share>;
  readonly euClass?: Written<string>;
  readonly registration?: Registration;
  readonly remoteId?: RemoteIdentification;
  /** Absent where the file does not speak of lights. */
  readonly lights?: readonly Light[];
  /** What it holds for flight over people in the United States. */
  readonly overPeople?: OverPeople;
  /** The camera it carries for surveys. */
  readonly camera?: Camera;
  /** Whether it has a low-speed mode of at most 3 m/s: (EU) 2019/945, class C2. */
  readonly lowSpeedMode?: Written<'yes' | 'no'>;
  readonly parachute?: Parachute;
  /** Metres that it glides for each metre of height; absent = it does not glide. */
  readonly glideRatio?: Written<number>;
  /** Greatest tilt or bank for a stop or a turn. */
  readonly bank?: Amount<Degrees>;
  readonly altimeter?: Written<'barometer' | 'satellites'>;
  /** Drag coefficient times frontal area when it falls. */
  readonly dragArea?: Amount<SquareMetres>;
  readonly slips: readonly Slip[];
  readonly nameSpan: Span;
}

export interface Battery {
  readonly span: Span;
  readonly nominal?: Amount<Joules>;
  readonly usable?: Amount<Share>;
  /** Absent = new. */
  readonly health?: Amount<Share>;
  readonly temperature?: Amount<Celsius>;
}

export interface FlightPower {
  readonly span: Span;
  readonly hover?: Amount<Watts>;
  /** In the order of the text; a figure that could not be read leaves `cruiseUnread`. */
  readonly cruise: readonly PowerAtSpeed[];
  readonly cruiseUnread: boolean;
  readonly climb?: Amount<Watts>;
}

/** Power in level flight at a speed through the air. */
export interface PowerAtSpeed {
  readonly span: Span;
  readonly power: Watts;
  readonly speed: MetresPerSecond;
}

export interface Tried {
  readonly span: Span;
  readonly mass?: Amount<Kilograms>;
  readonly densityAltitude?: Amount<Metres>;
}

export interface Parachute {
  readonly span: Span;
  /** From its release until it is open. */
  readonly opensIn?: Amount<Seconds>;
  /** Downwards, under the open canopy. */
  readonly sinks?: Amount<MetresPerSecond>;
}

export interface Registration {
  readonly span: Span;
  readonly number?: Written<string>;
  readonly expires?: Written<CalendarDate>;
}

export interface RemoteIdentification {
  readonly span: Span;
  readonly means?: Written<string>;
  readonly serial?: Written<string>;
}

/** Eligibility for flight over people: 14 CFR 107.110 to 107.140. */
export interface OverPeople {
  readonly span: Span;
  readonly category?: Written<OverPeopleCategory>;
  /** Whether no rotating part is exposed that would lacerate skin. */
  readonly rotorsCovered?: Written<'yes' | 'no'>;
  /** Number of the accepted declaration of compliance. */
  readonly declaration?: Written<string>;
  readonly labelled?: Written<'yes' | 'no'>;
  /** Number of the airworthiness certificate. */
  readonly airworthiness?: Written<string>;
}

export const OVER_PEOPLE_CATEGORIES = ['category 1', 'category 2', 'category 3', 'category 4'] as const;
export type OverPeopleCategory = (typeof OVER_PEOPLE_CATEGORIES)[number];

export interface Light {
  readonly span: Span;
  readonly flashing?: Written<'yes' | 'no'>;
  /** From how far away it can be seen. */
  readonly visible?: Amount<Metres>;
  readonly colour?: Written<'white' | 'green' | 'red' | 'blue' | 'yellow'>;
}
