import { type Ask, type Fact, NotAssessed } from '../facts/fact.ts';
import type { Flight, Plan } from '../plan/model.ts';
import type { RuleNames, RuleTools } from '../rulebook/rule.ts';
import { alike } from './alike.ts';
import {
  changedParts,
  isRoute,
  type Known,
  NOTHING,
  NOW,
  type Parts,
  planPart,
  RULE_SET,
  SETTINGS,
  worldPart,
} from './input-parts.ts';

type Outcome = { readonly value: unknown } | { readonly thrown: unknown };

/** A fact that may say something else in the next review, and what it said when something was built on it. */
interface Assumption {
  readonly fact: Fact<object, unknown>;
  readonly of: object;
  readonly entry: Entry;
}

interface Entry {
  readonly outcome: Outcome;
  /** The parts of the input that were read for it, by itself and by what it asked. */
  readonly parts: Parts;
  readonly assumptions: readonly Assumption[];
  /** It looked at the route as a whole, and so holds for one review only. */
  readonly passing: boolean;
  /** The review in which it was last found to hold, or not. */
  checked: number;
  holds: boolean;
  /** The review in which what it says was last compared with what is said then. */
  compared: number;
  same: boolean;
}

/** What is read while something is worked out. */
interface Frame {
  parts: Parts;
  passing: boolean;
  readonly assumed: Map<Entry, Assumption>;
}

const NAMELESS: RuleNames = { all: [], practice: new Set() };

const sameOutcome = (one: Outcome, other: Outcome): boolean => {
  if ('value' in one) return 'value' in other && alike(one.value, other.value);
  if ('value' in other) return false;
  const [a, b] = [one.thrown, other.thrown];
  return a instanceof NotAssessed && b instanceof NotAssessed && a.message === b.message && a.due === b.due;
};

/**
 * Answers facts and keeps the answers, within a review and from one review of a document to the next.
 *
 * While a fact is worked out, everything it reads is noted: parts of the input, the route as a whole, other facts. In
 * the next review an answer holds when none of that has changed. A fact about one item or leg reads little, so an edit
 * elsewhere leaves it. A fact that looks at the whole route is worked out anew each time, and whoever asked for it
 * compares: where it says the same as before, what was built on it stands.
 *
 * Items and legs that an edit did not touch must be the same objects as before (`readPlanDocument` sees to that).
 */
export class Memory {
  #known: Known | undefined;
  #review = 0;
  /** By review: all parts that have changed since it. */
  #changedSince: Parts[] = [];
  #answers = new WeakMap<object, Map<unknown, Entry | 'deriving'>>();
  #flights = new WeakSet<object>();
  #flightsNow = new Set<Flight>();
  #tools: RuleTools | undefined;
  #tracked: Plan | undefined;
  readonly #plans = new WeakSet<object>();
  readonly #ofPlan = {};
  readonly #frames: Frame[] = [];

  /** The tools of the last review; undefined before the first. */
  get tools(): RuleTools | undefined {
    return this.#tools;
  }

  /** Starts a review. The tools of an earlier one must not be used any more. */
  begin(known: Known, ruleNames: RuleNames = NAMELESS): RuleTools {
    const changed = this.#known === undefined ? NOTHING : changedParts(this.#known, known);
    this.#changedSince = [...this.#changedSince.map((parts) => parts | changed), NOTHING];
    if (this.#known !== undefined) this.#changedSince[this.#review] = changed;
    this.#review = this.#changedSince.length - 1;
    this.#known = known;
    this.#frames.length = 0;
    this.#flightsNow = new Set(known.plan.flights);
    for (const flight of known.plan.flights) this.#flights.add(flight);
    const plan = this.#watched(known.plan, planPart);
    const world = this.#watched(known.world, worldPart);
    this.#tracked = plan;
    this.#plans.add(known.plan).add(plan);
    const note = (parts: Parts): void => this.#note(parts);
    this.#tools = {
      ruleNames,
      ask: this.#ask,
      plan,
      world,
      get settings() {
        note(SETTINGS);
        return known.settings;
      },
      get ruleSet() {
        note(RULE_SET);
        return known.ruleSet;
      },
      get now() {
        note(NOW);
        return known.now;
      },
    };
    return this.#tools;
  }

  /** What was kept for a subject under a key, if it still holds. */
  recall<T>(key: object, of: object): T | undefined {
    const entry = this.#answersFor(of).get(key);
    if (entry === undefined || entry === 'deriving' || !this.#holds(entry)) return undefined;
    return 'value' in entry.outcome ? (entry.outcome.value as T) : undefined;
  }

  /** Works something out in steps and keeps it as a fact is kept, to be recalled under the key. */
  *keep<T>(key: object, of: object, work: () => Generator<void, T>): Generator<void, T> {
    const frame = this.#enter();
    const steps = work();
    for (;;) {
      const step = steps.next();
      if (step.done === true) {
        this.#leave(frame);
        this.#answersFor(of).set(key, this.#entryOf(frame, { value: step.value }, of));
        return step.value;
      }
      yield;
    }
  }

  readonly #ask: Ask = <Of extends object, T>(fact: Fact<Of, T>, asked: Of): T => {
    // Whoever asks about the plan has its present reading watched; answers are kept under one name for all readings.
    const of = (this.#plans.has(asked) ? this.#tracked : asked) as Of;
    const answers = this.#answersFor(of);
    const found = answers.get(fact);
    if (found === 'deriving') throw new Error(`the fact "${fact.name}" needs itself`);
    const entry = found !== undefined && this.#holds(found) ? found : this.#derive(fact, of, answers);
    this.#rely(entry, fact as unknown as Fact<object, unknown>, of);
    if ('thrown' in entry.outcome) throw entry.outcome.thrown;
    return entry.outcome.value as T;
  };

  #answersFor(of: object): Map<unknown, Entry | 'deriving'> {
    const key = of === (this.#tracked as object | undefined) ? this.#ofPlan : of;
    let answers = this.#answers.get(key);
    if (answers === undefined) {
      answers = new Map();
      this.#answers.set(key, answers);
    }
    return answers;
  }

  #derive<Of extends object, T>(fact: Fact<Of, T>, of: Of, answers: Map<unknown, Entry | 'deriving'>): Entry {
    const tools = this.#tools;
    if (tools === undefined) throw new Error('a fact was asked for before the review began');
    answers.set(fact, 'deriving');
    const frame = this.#enter();
    let outcome: Outcome;
    try {
      outcome = { value: fact.derive(of, tools) };
    } catch (thrown) {
      outcome = { thrown };
    }
    this.#leave(frame);
    const entry = this.#entryOf(frame, outcome, of);
    answers.set(fact, entry);
    return entry;
  }

  #entryOf(frame: Frame, outcome: Outcome, of: object): Entry {
    return {
      outcome,
      parts: frame.parts,
      assumptions: [...frame.assumed.values()],
      // A flight is made anew by every reading.
      passing: frame.passing || this.#flights.has(of),
      checked: this.#review,
      holds: true,
      compared: this.#review,
      same: true,
    };
  }

  #enter(): Frame {
    const frame: Frame = { parts: NOTHING, passing: false, assumed: new Map() };
    this.#frames.push(frame);
    return frame;
  }

  #leave(frame: Frame): void {
    if (this.#frames.pop() !== frame) throw new Error('what was worked out did not end in the order it began');
  }

  #note(parts: Parts): void {
    const frame = this.#frames.at(-1);
    if (frame !== undefined) frame.parts |= parts;
  }

  /** Notes in the frame that asks what its answer rests on. */
  #rely(entry: Entry, fact: Fact<object, unknown>, of: object): void {
    const frame = this.#frames.at(-1);
    if (frame === undefined) return;
    // What looks at the route as a whole is asked again and compared; the parts it read do not matter then.
    if (!entry.passing) frame.parts |= entry.parts;
    if (entry.passing || entry.assumptions.length > 0) frame.assumed.set(entry, { fact, of, entry });
  }

  #holds(entry: Entry): boolean {
    if (entry.checked === this.#review) return entry.holds;
    const changed = this.#changedSince[entry.checked] ?? NOTHING;
    const holds =
      !entry.passing &&
      entry.holds &&
      (entry.parts & changed) === 0 &&
      entry.assumptions.every((assumption) => this.#stands(assumption));
    entry.checked = this.#review;
    entry.holds = holds;
    return holds;
  }

  /** Whether a fact still says what it said: because nothing it read has changed, or by asking it again. */
  #stands({ fact, of, entry }: Assumption): boolean {
    if (this.#holds(entry)) return true;
    if (entry.compared === this.#review) return entry.same;
    // Thousands may rest on one answer about the whole route: it is compared once.
    entry.same = this.#saysTheSame(fact, of, entry);
    entry.compared = this.#review;
    return entry.same;
  }

  #saysTheSame(fact: Fact<object, unknown>, of: object, entry: Entry): boolean {
    if (this.#flights.has(of) && !this.#flightsNow.has(of as Flight)) return false;
    let now: Outcome;
    // What is asked to compare is no part of what is being worked out around it.
    const frame = this.#enter();
    try {
      now = { value: this.#ask(fact, of) };
    } catch (thrown) {
      now = { thrown };
    }
    this.#leave(frame);
    return sameOutcome(entry.outcome, now);
  }

  #watched<T extends object>(whole: T, partOf: (key: string) => Parts): T {
    return new Proxy(whole, {
      get: (target, key) => {
        const frame = this.#frames.at(-1);
        if (frame !== undefined && typeof key === 'string') {
          if (isRoute(key)) frame.passing = true;
          else frame.parts |= partOf(key);
        }
        return Reflect.get(target, key);
      },
      ownKeys: (target) => {
        const frame = this.#frames.at(-1);
        if (frame !== undefined) frame.passing = true;
        return Reflect.ownKeys(target);
      },
    });
  }
}
