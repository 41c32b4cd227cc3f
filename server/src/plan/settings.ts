import type { Span, Written } from '../text/span.ts';
import type { Metres, MetresPerSecond, Share } from '../units/frames.ts';
import type { Amount, WrittenHeight } from './model.ts';
import type { Slip } from './slip.ts';

/** The house's settings, read from `waywarden.settings.yaml`, found from the plan's folder upwards. */
export interface Settings {
  /** Path of the file, absent where none was found. */
  readonly document?: string;
  /** Why the file that is there could not be read; finishes the sentence "waywarden.settings.yaml ...". */
  readonly unreadable?: string;
  readonly country?: Written<string>;
  readonly state?: Written<string>;
  /** House limits: stricter than law only. */
  readonly limits: HouseLimits;
  /** How long those who are asked usually take, in seconds, by what is asked of them. None is assumed. */
  readonly leadTimes: LeadTimes;
  /** Practice rules switched off, each with its reason; shown as such in every matrix. */
  readonly off: readonly SwitchedOff[];
  readonly slips: readonly Slip[];
}

export interface HouseLimits {
  readonly height?: HouseLimit<WrittenHeight>;
  readonly sightRange?: HouseLimit<Amount<Metres>>;
  readonly groundClearance?: HouseLimit<Amount<Metres>>;
  readonly terrainMargin?: HouseLimit<Amount<Metres>>;
  readonly reserve?: HouseLimit<Amount<Share>>;
  /** Strongest wind or gust. */
  readonly wind?: HouseLimit<Amount<MetresPerSecond>>;
  /** Over the ground. */
  readonly speed?: HouseLimit<Amount<MetresPerSecond>>;
  /** From people who take no part, over the ground. */
  readonly peopleDistance?: HouseLimit<Amount<Metres>>;
  /** From zones that ask for leave, over the ground. */
  readonly zoneMargin?: HouseLimit<Amount<Metres>>;
  readonly statementAge?: HouseLimit<Amount<number>>;
  readonly airspaceAge?: HouseLimit<Amount<number>>;
  readonly obstaclesAge?: HouseLimit<Amount<number>>;
  readonly peopleAge?: HouseLimit<Amount<number>>;
  readonly runwaysAge?: HouseLimit<Amount<number>>;
  readonly terrainAge?: HouseLimit<Amount<number>>;
  /** How long before its end a paper is told. */
  readonly paperNotice?: HouseLimit<Amount<number>>;
}

/** What an authority, an owner or an office is asked for. */
export const LEAD_KINDS = ['airspace', 'waiver', 'operation', 'ground', 'registration', 'competency'] as const;
export type LeadKind = (typeof LEAD_KINDS)[number];
export type LeadTimes = Partial<Readonly<Record<LeadKind, Amount<number>>>>;

export interface HouseLimit<T> {
  readonly value: T;
  readonly because?: Written<string>;
  readonly span: Span;
}

export interface SwitchedOff {
  readonly rule: Written<string>;
  readonly because?: Written<string>;
  readonly span: Span;
}

export const NO_SETTINGS: Settings = { limits: {}, leadTimes: {}, off: [], slips: [] };
