import type { FactTools } from '../facts/fact.ts';
import type { PreflightGroup } from '../facts/preflight.ts';
import type { Aircraft } from '../plan/aircraft.ts';
import type { Acceptance, Amount, Flight, Item, Leg, Plan } from '../plan/model.ts';
import type { LeadKind } from '../plan/settings.ts';
import type { SlipKind, SlipOf } from '../plan/slip.ts';
import type { Span } from '../text/span.ts';
import type { Instant } from '../units/frames.ts';
import type { Judgement, Level, Lift } from './finding.ts';
import type { RuleSetId } from './rule-set.ts';

/** The questions a pilot asks; `tell` lists rules by them. */
export const QUESTIONS = [
  'Does the plan say what I mean?',
  'Which rules apply?',
  'May I fly here?',
  'How high?',
  'Does it hit anything?',
  'How fast?',
  'Will it come home?',
  'Who must see it?',
  'By day or by night?',
  'What weather?',
  'Over people?',
  'Will the photos do?',
  'What papers?',
  'Is the plan of today?',
] as const;
export type Question = (typeof QUESTIONS)[number];

/** What a rule looks at, one at a time. A slip rule sees the slips of its own name. */
export interface Subjects {
  readonly plan: Plan;
  readonly flight: Flight;
  readonly leg: Leg;
  readonly item: Item;
  readonly aircraft: Aircraft;
  /** Looked at last, when it is known what became of it. */
  readonly acceptance: AcceptanceOutcome;
  /** A paper that has lifted something, once for each paper; looked at last, too. */
  readonly lift: Lift;
  /** What somebody has to be asked for, as the findings stand; looked at last, too. */
  readonly owed: Owed;
}

/**
 * What became of an acceptance. `untested`: its rule was not assessed, so nothing can be said. `exceeded`: the finding is
 * worse than its ceiling, and says so itself.
 */
export interface AcceptanceOutcome {
  readonly acceptance: Acceptance;
  readonly fate:
    | 'used'
    | 'unused'
    | 'exceeded'
    | 'untested'
    | 'rule unknown'
    | 'not acceptable'
    | 'without reason'
    | 'lapsed'
    | 'without ceiling';
}

/** Somebody who can be asked for leave, a paper or a waiver. */
export interface Ask {
  /** "air traffic control, or whoever manages the zone" */
  readonly whom: string;
  readonly kind: LeadKind;
}

/** One thing to be asked for, with all that hangs on it. */
export interface Owed extends Ask {
  readonly rules: readonly string[];
  readonly subjects: readonly string[];
  /** How long the answer usually takes, as the house states it; no other is assumed. */
  readonly leadTime?: Amount<number>;
  /** The latest time to ask. */
  readonly by?: Instant;
  /** That time is over. */
  readonly late: boolean;
  /** Where the first of its findings stands. */
  readonly at: Span;
}

export interface InForce {
  readonly since?: string;
  readonly until?: string;
}

/** What set the limit: decides how a finding can be lifted. */
export type Basis = 'law' | 'declared' | 'physics' | 'language' | 'practice';

export interface Source {
  /** "14 CFR 107.51(b)" */
  readonly cite: string;
  /** Date or edition of the text that was read. */
  readonly edition: string;
  /** Absent = the text was read. */
  readonly trust?: 'from memory' | 'common practice, no source' | 'secondary copy';
  /** Rule sets it belongs to; absent = all. */
  readonly for?: readonly RuleSetId[];
}

/** What a rule needs from outside the plan. */
export type Need = 'terrain' | 'airspace' | 'obstacles' | 'aircraft' | 'weather' | 'people' | 'runways' | 'now';

/** What a rule may look at: all that facts may, and the names of its fellows. */
export interface RuleTools extends FactTools {
  readonly ruleNames: RuleNames;
}

export interface RuleNames {
  readonly all: readonly string[];
  /** Rules of practice: the ones that settings may switch off. */
  readonly practice: ReadonlySet<string>;
}

interface RuleText {
  /** One line: the fault, as in "a leg rises above the height limit". */
  readonly title: string;
  readonly question: Question;
  /** One level for every kind of flight, or one for each rule set it belongs to. */
  readonly level: Level | Partial<Readonly<Record<RuleSetId, Level>>>;
  readonly basis: Basis;
  /** What would happen, and why the rule exists. Plain words. */
  readonly why: string;
  /** The exact condition, with both unit systems. */
  readonly condition: string;
  readonly exceptions?: string;
  /** How to mend the plan. */
  readonly mend: string;
  /** The other reading of the law where there are two. */
  readonly otherReading?: string;
  readonly sources: readonly Source[];
  readonly needs: readonly Need[];
  /** True where the crew may answer the question by looking, in a `preflight` statement. */
  readonly declarable?: true;
  /** The word by which a preflight statement of the day covers it together with its fellows. */
  readonly declaredWith?: PreflightGroup;
  /** The sections a waiver may lift it by, such as "14 CFR 107.51". */
  readonly waivable?: readonly string[];
  /**
   * Since when, and until when, the rule holds, where it is younger than its law or has ended: days as "2024-01-01", both
   * included. A flight of another day is not judged by it.
   */
  readonly inForce?: Partial<Readonly<Record<RuleSetId, InForce>>>;
  /** Whom to ask for what lifts it, in general words. What `waivable` names is asked of the aviation authority. */
  readonly ask?: Ask;
  /** What it finds may lie beside the route, as the way back after a lost link does. */
  readonly besideRoute?: true;
  /**
   * The smallest change to a sound plan that gives this finding (or gap), and the same put right. Both run as tests,
   * on the standard head and world of test/support; `world` changes the world of the faulty one, `soundWorld` of the other.
   */
  readonly example: {
    readonly faulty: string;
    readonly sound: string;
    readonly world?: string;
    readonly soundWorld?: string;
  };
}

export interface RuleFor<S extends keyof Subjects> extends RuleText {
  readonly visits: S;
  check(subject: Subjects[S], tools: RuleTools): Iterable<Judgement>;
}

export interface SlipRuleFor<K extends SlipKind> extends RuleText {
  readonly visits: 'slip';
  readonly slip: K;
  check(slip: SlipOf<K>, tools: RuleTools): Iterable<Judgement>;
}

export type RuleBody =
  | { [S in keyof Subjects]: RuleFor<S> }[keyof Subjects]
  | { [K in SlipKind]: SlipRuleFor<K> }[SlipKind];

/** A rule with its name, which is its file's name. */
export type Rule = RuleBody & { readonly id: string };

export const defineRule = <S extends keyof Subjects>(rule: RuleFor<S>): RuleFor<S> => rule;
export const defineSlipRule = <K extends SlipKind>(rule: SlipRuleFor<K>): SlipRuleFor<K> => rule;

/** The level of a rule under a rule set; undefined where it does not apply. Unknown rule set: the worst it can have. */
export const levelUnder = (rule: RuleBody, ruleSet: RuleSetId | undefined): Level | undefined => {
  if (typeof rule.level === 'string') return rule.level;
  if (ruleSet !== undefined) return rule.level[ruleSet];
  const levels = Object.values(rule.level);
  return levels.includes('stop') ? 'stop' : levels.includes('caution') ? 'caution' : levels[0];
};

const isOnlyNote = ({ level }: RuleBody): boolean =>
  typeof level === 'string' ? level === 'note' : Object.values(level).every((each) => each === 'note');

/** Findings of law, of declared limits and of physics are lifted by data only; practice and notes may be accepted. */
export const isAcceptable = (rule: RuleBody): boolean => rule.basis === 'practice' || isOnlyNote(rule);

export const namesOf = (rules: readonly Rule[]): RuleNames => ({
  all: rules.map((rule) => rule.id),
  practice: new Set(rules.filter(({ basis }) => basis === 'practice').map((rule) => rule.id)),
});
