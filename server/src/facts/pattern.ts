import { crossingEdges } from '../geo/crossing-edges.ts';
import { linesOver } from '../geo/parallel-lines.ts';
import type { Item, ItemKind } from '../plan/model.ts';
import type { SurveyText } from '../plan/pattern.ts';
import type { Span } from '../text/span.ts';
import type { LonLat } from '../units/frames.ts';
import { sayNumber } from '../units/say.ts';
import { ringOfOutline } from './area-shape.ts';
import { defineFact, type FactTools, given, NotAssessed } from './fact.ts';

/** The items that stand for many legs. */
const PATTERNS: ReadonlySet<ItemKind> = new Set(['survey', 'corridor', 'circle']);

export const isPattern = ({ kind }: Item): boolean => PATTERNS.has(kind);

/** More lines than these are a slip of the hand: at 10 m from line to line they are an area 20 km wide. */
export const MOST_LINES = 2000;

/** A place that a pattern leads to. */
export interface PatternPlace {
  readonly at: LonLat;
  /** "line 3 start" */
  readonly name: string;
  readonly line: number;
  readonly endsLine: boolean;
}

/**
 * The way of a pattern over the ground, from place to place, or why it cannot be flown as it is written: that is a fault of
 * the plan and not a lack of data.
 */
export type PatternCourse =
  | { readonly kind: 'flown'; readonly places: readonly PatternPlace[] }
  | { readonly kind: 'impossible'; readonly why: string; readonly at: Span };

const courseOfSurvey = (item: Item, text: SurveyText): PatternCourse => {
  const { outline, outlineSpan, course, spacing, firstTurn } = text;
  const name = item.id.value;
  const ring = ringOfOutline(given(outline, `the outline of ${name}`));
  const crossing = crossingEdges(ring);
  if (crossing !== undefined) {
    const [one, other] = crossing;
    const why = `the outline of ${name} crosses itself: the side from corner ${one + 1} cuts the side from corner ${other + 1}`;
    return { kind: 'impossible', why, at: outlineSpan ?? item.id.span };
  }
  const between = given(spacing, `the distance from line to line of ${name}`);
  const direction = given(course, `the course of the lines of ${name}`).value;
  if (!(between.value > 0)) {
    return { kind: 'impossible', why: `the lines of ${name} lie 0 m from each other`, at: between.span };
  }
  const found = linesOver(ring, {
    course: direction,
    spacing: between.value,
    firstTurn: firstTurn?.value ?? 'right',
    most: MOST_LINES,
  });
  if ('tooMany' in found) {
    const why = `${name} would have ${sayNumber(found.tooMany, 0)} lines; at most ${MOST_LINES} are worked out`;
    return { kind: 'impossible', why, at: between.span };
  }
  const places = found.lines.flatMap(({ start, end }, i): readonly PatternPlace[] => [
    { at: start, name: `line ${i + 1} start`, line: i + 1, endsLine: false },
    { at: end, name: `line ${i + 1} end`, line: i + 1, endsLine: true },
  ]);
  return { kind: 'flown', places };
};

export const patternCourse = defineFact({
  name: 'pattern-course',
  derive: (item: Item): PatternCourse => {
    const { pattern } = item;
    if (pattern === undefined) {
      throw new NotAssessed(`${item.kind} ${item.id.value} is not worked out into legs in this version`);
    }
    return courseOfSurvey(item, pattern);
  },
});

/**
 * The points that a pattern is flown along, as items with the pattern's spans, so that what is found at one of them stands
 * on the pattern. `NotAssessed` where they cannot be worked out.
 */
export const patternPoints = defineFact({
  name: 'pattern-points',
  derive: (item: Item, tools: FactTools): readonly Item[] => {
    const course = tools.ask(patternCourse, item);
    if (course.kind === 'impossible') {
      throw new NotAssessed(`${item.kind} ${item.id.value} cannot be worked out into legs: ${course.why}`);
    }
    const { pattern, leg: wayIn } = item;
    return course.places.map(({ at, name, line, endsLine }, i): Item => {
      const leg = i === 0 ? wayIn : pattern?.terms;
      return {
        kind: 'point',
        span: item.span,
        id: { value: `${item.id.value} ${name}`, span: item.id.span },
        insertion: item.insertion,
        at: { value: at, span: item.id.span },
        ...(pattern?.altitude !== undefined && { altitude: pattern.altitude }),
        ...(leg !== undefined && { leg }),
        partOf: { pattern: item, line, endsLine },
        accepts: item.accepts,
        unread: item.unread,
      };
    });
  },
});
