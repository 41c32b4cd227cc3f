import type { Span, Written } from '../text/span.ts';
import type { CalendarDate, ZonedTime } from '../units/calendar.ts';
import type { UnitName } from '../units/convert.ts';
import type { Height, LonLat, Metres, MetresPerSecond, Seconds, Share } from '../units/frames.ts';
import type { Authorisation } from './authorisation.ts';
import type { Crew } from './crew.ts';
import type { Drop } from './drop.ts';
import type { GroundRisk } from './ground-risk.ts';
import type { ObstacleSource } from './obstacle-source.ts';
import type { PatternPart, PatternTerms } from './pattern.ts';
import type { People } from './people.ts';
import type { AirspaceReference, FileReference, TerrainReference } from './references.ts';
import type { Slip } from './slip.ts';
import type { PlanWeather } from './weather.ts';

/**
 * A plan as read: only data, no methods. Every value keeps the place where it was written. A value that is missing or
 * could not be read is absent here; the reason stands among the slips.
 */
export interface Plan {
  readonly document: string;
  readonly title?: Written<string>;
  readonly purpose?: Written<string>;
  /** Whether property of somebody else is carried for pay: 14 CFR 107.205(a). */
  readonly propertyForHire?: Written<'yes' | 'no'>;
  readonly country?: Written<string>;
  readonly state?: Written<string>;
  readonly window?: Window;
  /** The day a past plan was flown; it is then judged as of that day. */
  readonly flown?: Written<CalendarDate>;
  readonly aircraft?: Written<string>;
  readonly category?: Written<string>;
  readonly site: Site;
  readonly crew: Crew;
  readonly terrain: readonly TerrainReference[];
  /** The grid that tells how high mean sea level lies above the ellipsoid. */
  readonly geoid?: Written<string>;
  readonly airspace: readonly AirspaceReference[];
  readonly obstacles?: ObstacleSource;
  /** Runways with their airports' surface class, for the exclusion zones around their ends. */
  readonly runways: readonly FileReference[];
  /** Plans that are flown on the same site, by their paths. */
  readonly alongside: readonly Written<string>[];
  readonly people?: People;
  readonly weather: PlanWeather;
  readonly preflight: readonly PreflightStatement[];
  readonly restrictions?: RestrictionSource;
  readonly authorisations: readonly Authorisation[];
  readonly accepts: readonly Acceptance[];
  readonly items: readonly Item[];
  readonly flights: readonly Flight[];
  readonly lostLink?: LostLink;
  /** Of a flight in the specific category. */
  readonly groundRisk?: GroundRisk;
  /** Share of the usable energy that is to be left at every landing. */
  readonly reserve?: Amount<Share>;
  readonly slips: readonly Slip[];
  /** Parts that could not be read; facts about the whole route refuse to answer while any lies in it. */
  readonly unread: readonly Span[];
  /** The key of the route and the place of the title, where findings about the whole plan stand. */
  readonly titleSpan: Span;
  readonly routeSpan?: Span;
  /** Where a new top-level key can be put in: the end of the head, at the start of a line. */
  readonly headEnd: Span;
  /** What has to stand before and after it there: its indentation and line break, or the comma of a `{ }`. */
  readonly headEntry: { readonly before: string; readonly after: string };
  readonly eol: '\n' | '\r\n';
}

/** A number with a unit, as written: `400 ft`. `value` is SI. */
export interface Amount<T extends number> extends Written<T> {
  readonly number: number;
  readonly unit: UnitName;
}

/** The words that name a height's frame in a plan. */
export type Datum = 'AGL' | 'AMSL' | 'above take-off' | 'above ellipsoid';

/** A position; `parts` where latitude and longitude stand in scalars of their own, else the span is the whole text. */
export interface WrittenPosition extends Written<LonLat> {
  readonly parts?: { readonly lat: Span; readonly lon: Span };
}

export interface WrittenHeight extends Written<Height> {
  readonly number: number;
  readonly unit: 'm' | 'ft';
  readonly datum: Datum;
}

/** A date alone means its whole day. */
export type DateOrTime = { readonly date: CalendarDate } | { readonly time: ZonedTime };

export interface Window {
  readonly span: Span;
  readonly from?: Written<ZonedTime>;
  readonly until?: Written<ZonedTime>;
}

export interface Site {
  readonly span?: Span;
  readonly takeOff?: SitePlace;
  readonly permission?: Permission;
}

export interface SitePlace {
  readonly span: Span;
  readonly at?: WrittenPosition;
  /** Ground elevation above mean sea level. */
  readonly elevation?: Amount<Metres>;
}

export interface Permission {
  readonly span: Span;
  readonly of?: Written<string>;
  readonly given?: Written<CalendarDate>;
}

export type { Crew, CrewMember } from './crew.ts';

/** What every statement of a person carries: when it was seen, by whom, and for which plan. */
export interface Statement {
  readonly span: Span;
  readonly key: string;
  readonly seen?: Written<DateOrTime>;
  readonly by?: Written<string>;
  /** Digest of the plan it was made for. */
  readonly of?: Written<string>;
}

/** `covers` names the rules whose question the crew answered by looking. */
export interface PreflightStatement extends Statement {
  readonly covers: readonly Written<string>[];
}

export type {
  ListedObstacle,
  ObstacleList,
  ObstacleSource,
  ObstacleStatement,
  StructureRequest,
} from './obstacle-source.ts';

export type { PatternPart, PatternTerms } from './pattern.ts';

export type { PlanWeather, WeatherStation, Wind } from './weather.ts';

/** Temporary restrictions and notices: a statement that there are none, or their texts. */
export type RestrictionSource = RestrictionStatement | RestrictionNotices;

/** `restrictions: { none-found: where it was looked, seen: ..., by: ... }` */
export interface RestrictionStatement extends Statement {
  readonly kind: 'statement';
  readonly noneFound?: Written<string>;
}

export interface RestrictionNotices {
  readonly kind: 'notices';
  readonly span: Span;
  /** When they were fetched. */
  readonly retrieved?: Written<ZonedTime>;
  /** Each as it was issued, word for word. */
  readonly notices: readonly Written<string>[];
}

export type { Authorisation } from './authorisation.ts';

export interface Acceptance {
  readonly span: Span;
  readonly rule?: Written<string>;
  readonly because?: Written<string>;
  /** A number with a unit, compared with the finding's value in SI. */
  readonly upTo?: Amount<number>;
  readonly until?: Written<CalendarDate>;
  /** The item it stands on; absent at the top level, where it covers findings about the plan as a whole. */
  readonly item?: Item;
}

export interface LostLink {
  readonly span: Span;
  readonly after?: Amount<Seconds>;
  readonly climbTo?: WrittenHeight;
  /** `fly back and land`, `land there`, `hold`, `carry on`, or `fly to` with its place in `to`. */
  readonly action?: Written<'fly back and land' | 'land there' | 'hold' | 'carry on' | 'fly to'>;
  /** The name of the place that it flies to: an item of the route, unless `at` says where it is. */
  readonly to?: Written<string>;
  readonly at?: WrittenPosition;
}

// ── the route

export type ItemKind =
  | 'take-off'
  | 'point'
  | 'area'
  | 'land'
  | 'hold'
  | 'battery'
  | 'survey'
  | 'corridor'
  | 'circle'
  | 'unread';

/** One entry of the route. `kind` is the telling key. Which of the other fields can be present depends on it. */
export interface Item {
  readonly kind: ItemKind;
  /** The item's whole text, without the dash and without the line break. */
  readonly span: Span;
  /** The name after the telling key; findings about the item as a whole stand on it. */
  readonly id: Written<string>;
  /** Where text can be put in to stand before this item, and how lines of the route are indented. */
  readonly insertion: Insertion;
  readonly at?: WrittenPosition;
  readonly altitude?: WrittenHeight;
  readonly elevation?: Amount<Metres>;
  readonly climbTo?: WrittenHeight;
  readonly hold?: Amount<Seconds>;
  /** Of a change of battery: time on the ground. */
  readonly lasts?: Amount<Seconds>;
  /** Of a take-off: the window of its flight, inside that of the plan. */
  readonly window?: Window;
  /** Of a point: what is let fall there. */
  readonly drop?: Drop;
  readonly leg?: LegTerms;
  readonly area?: AreaTerms;
  /** Of a survey, corridor or circle: what its legs are worked out from. */
  readonly pattern?: PatternTerms;
  /** Of a point that stands nowhere in the text because it was worked out from a pattern. It has the pattern's spans. */
  readonly partOf?: PatternPart;
  readonly accepts: readonly Acceptance[];
  /** True where some part of the item could not be read. */
  readonly unread: boolean;
}

export interface Insertion {
  readonly at: Span;
  /** Where text can be put in to stand after this item: in a block at the end of its last line. */
  readonly after: Span;
  readonly indent: string;
  readonly style: 'block' | 'flow';
}

/** Terms of the leg that ends at an item. */
export interface LegTerms {
  readonly span: Span;
  readonly speed?: Amount<MetresPerSecond>;
  readonly speedIs?: 'over ground' | 'through air';
  readonly follows?: { readonly height: WrittenHeight; readonly within: Metres; readonly span: Span };
}

export type AreaShape =
  | { readonly kind: 'circle'; readonly radius: Amount<Metres>; readonly around: Written<LonLat> }
  | { readonly kind: 'polygon'; readonly ring: readonly WrittenPosition[] };

export interface AreaTerms {
  readonly inside?: AreaShape;
  readonly insideSpan?: Span;
  readonly from?: WrittenHeight;
  readonly to?: WrittenHeight;
  readonly lasts?: Amount<Seconds>;
  readonly speed?: Amount<MetresPerSecond>;
}

/** From one take-off to the next; the items keep the order of the text. */
export interface Flight {
  /** Counted from 1. */
  readonly number: number;
  readonly items: readonly Item[];
  readonly legs: readonly Leg[];
  /** The take-off item, or the first item where there is none. */
  readonly first: Item;
}

/** The way from one item's place to the next one's. Its terms are those of the item that it ends at. */
export interface Leg {
  readonly from: Item;
  readonly to: Item;
  readonly flight: FlightRef;
}

/** What a leg or item needs to know of its flight without holding the whole of it. */
export interface FlightRef {
  readonly number: number;
  readonly first: Item;
}
