import type { Slip } from './slip.ts';

/**
 * How the airspace file of an authority is read: which of its properties say what. Data of the house, not code; the
 * names of properties and the values in the tables are the authority's.
 */
export interface ZoneMapping {
  readonly document: string;
  /** Whose layout it is. */
  readonly of?: string;
  /** Boxes [west, south, east, north] in degrees about which files of this layout tell everything they should. */
  readonly covers?: readonly (readonly [number, number, number, number])[];
  /** Conditions that a feature has to meet to count; all of them. */
  readonly counts: readonly Condition[];
  /** Absent = the feature's own id. */
  readonly id?: string;
  readonly name?: string;
  /** Properties whose texts are shown word for word. */
  readonly text: readonly string[];
  readonly kind?: Choice;
  readonly airspaceClass?: Choice;
  readonly surfaceArea?: Choice;
  readonly restriction?: Choice;
  /** Whether a zone bars take-offs and landings only: `take-off and landing`, or `flight` for all of it. */
  readonly bars?: Choice;
  /** Of a cell: the grid it belongs to, a fixed name or the property that holds it. */
  readonly grid?: Choice;
  readonly floor?: EdgeTerms;
  readonly ceiling?: EdgeTerms;
  readonly radius?: RadiusTerms;
  readonly active?: ActiveTerms;
  readonly slips: readonly Slip[];
}

export interface Condition {
  readonly property: string;
  readonly is?: readonly string[];
  readonly isNot?: readonly string[];
}

/** A fixed word, or one that a property decides. Without a table the property holds our word itself. */
export type Choice =
  | { readonly fixed: string }
  | { readonly property: string; readonly table?: ReadonlyMap<string, string>; readonly absent?: string };

/** A floor or ceiling: a text of the table or of the property, or a number with its unit and datum. */
export interface EdgeTerms {
  readonly property: string;
  readonly table?: ReadonlyMap<string, string>;
  readonly absent?: string;
  readonly unit?: Choice;
  readonly datum?: Choice;
}

export interface RadiusTerms {
  readonly property: string;
  readonly unit?: Choice;
}

export interface ActiveTerms {
  /** The property that names the hours. */
  readonly property?: string;
  /** What its values mean, in the form of the key `active` of a zones file; the text `always` is always. */
  readonly table: ReadonlyMap<string, Plain>;
  /** Properties that hold the first and the last instant. */
  readonly from?: string;
  readonly until?: string;
}

/** A value as written, without its places. */
export type Plain = string | readonly Plain[] | { readonly [key: string]: Plain };
