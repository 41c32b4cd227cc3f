import { besideLine, flatLine } from '../geo/beside-line.ts';
import { cornersAround, sidesFor } from '../geo/circle-corners.ts';
import { crossingEdges } from '../geo/crossing-edges.ts';
import { linesOver } from '../geo/parallel-lines.ts';
import type { Item } from '../plan/model.ts';
import type { CircleText, CorridorText, PatternTerms, PhotoText, SurveyText } from '../plan/pattern.ts';
import type { Span } from '../text/span.ts';
import type { LonLat } from '../units/frames.ts';
import { sayCount, sayNumber } from '../units/say.ts';
import { ringOfOutline } from './area-shape.ts';
import { type FactTools, given } from './fact.ts';
import { lineSpacing } from './photo-plan.ts';

/** More lines than these are a slip of the hand: at 10 m from line to line they are an area 20 km wide. */
export const MOST_LINES = 2000;
/** More points than these are no flight of one aircraft. */
const MOST_POINTS = 2 * MOST_LINES;

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

const impossible = (why: string, at: Span): PatternCourse => ({ kind: 'impossible', why, at });

const tooMany = (name: string, count: number, at: Span): PatternCourse =>
  impossible(`${name} would have ${sayNumber(count, 0)} lines; at most ${MOST_LINES} are worked out`, at);

const courseOfSurvey = (item: Item, text: SurveyText, tools: FactTools): PatternCourse => {
  const name = item.id.value;
  const ring = ringOfOutline(given(text.outline, `the outline of ${name}`));
  const crossing = crossingEdges(ring);
  if (crossing !== undefined) {
    const [one, other] = crossing;
    return impossible(
      `the outline of ${name} crosses itself: the side from corner ${one + 1} cuts the side from corner ${other + 1}`,
      text.outlineSpan ?? item.id.span,
    );
  }
  const course = given(text.course, `the course of the lines of ${name}`).value;
  const { value: spacing, at } = lineSpacing(item, text, tools);
  if (!(spacing > 0)) return impossible(`the lines of ${name} lie 0 m from each other`, at);
  const firstTurn = text.firstTurn?.value ?? 'right';
  const found = linesOver(ring, { course, spacing, firstTurn, most: MOST_LINES });
  if ('tooMany' in found) return tooMany(name, found.tooMany, at);
  const places = found.lines.flatMap(({ start, end }, i): readonly PatternPlace[] => [
    { at: start, name: `line ${i + 1} start`, line: i + 1, endsLine: false },
    { at: end, name: `line ${i + 1} end`, line: i + 1, endsLine: true },
  ]);
  return onlyLines(item, text, places);
};

/** The lines of a pattern that are flown in this flight. */
const onlyLines = (item: Item, text: PhotoText, places: readonly PatternPlace[]): PatternCourse => {
  const { firstLine, lastLine } = text;
  if (firstLine === undefined && lastLine === undefined) return { kind: 'flown', places };
  const [first, last] = [firstLine?.value ?? 1, lastLine?.value ?? Number.POSITIVE_INFINITY];
  const count = places.at(-1)?.line ?? 0;
  const written = firstLine ?? lastLine;
  if (first > last || first > count) {
    const why =
      first > count
        ? `${item.id.value} has ${sayCount(count, 'line')} and begins with line ${first}`
        : `${item.id.value} begins with line ${first} and ends with line ${last}, which comes before it`;
    return impossible(why, written?.span ?? item.id.span);
  }
  return { kind: 'flown', places: places.filter(({ line }) => line >= first && line <= last) };
};

/** Rounding must not make a line more out of a width of exactly so many spacings. */
const ROUNDING = 1e-6;

interface Lines {
  readonly count: number;
  readonly spacing: number;
  readonly at: Span;
}

const linesOfCorridor = (item: Item, text: CorridorText, tools: FactTools): Lines => {
  const width = given(text.width, `the width of ${item.id.value}`);
  if (text.lines !== undefined) {
    return { count: text.lines.value, spacing: width.value / text.lines.value, at: text.lines.span };
  }
  const { value: spacing, at } = lineSpacing(item, text, tools);
  return { count: Math.max(1, Math.ceil(width.value / spacing - ROUNDING)), spacing, at };
};

const nameOfCorner = (line: number, corner: number, count: number): string => {
  if (corner === 0) return `line ${line} start`;
  return corner === count - 1 ? `line ${line} end` : `line ${line} corner ${corner}`;
};

/**
 * The lines lie beside the middle of the corridor, from its left edge to the right when the first turn is to the right, each
 * in the middle of a strip of its own.
 */
const courseOfCorridor = (item: Item, text: CorridorText, tools: FactTools): PatternCourse => {
  const name = item.id.value;
  const along = given(text.along, `the line of ${name}`).map((corner) => corner.value);
  const alongSpan = text.alongSpan ?? item.id.span;
  const { count, spacing, at } = linesOfCorridor(item, text, tools);
  if (!(spacing > 0)) return impossible(`the lines of ${name} lie 0 m from each other`, at);
  if (count > MOST_LINES) return tooMany(name, count, at);
  const middle = flatLine(along);
  if (middle === undefined) return impossible(`all corners of ${name} are at the same place`, alongSpan);
  if (count * middle.corners.length > MOST_POINTS) {
    const points = sayNumber(count * middle.corners.length, 0);
    return impossible(`${name} would have ${points} points; at most ${MOST_POINTS} are worked out`, at);
  }
  const side = text.firstTurn?.value === 'left' ? -1 : 1;
  const places: PatternPlace[] = [];
  for (let i = 0; i < count; i++) {
    const beside = side * (i - (count - 1) / 2) * spacing;
    const found = besideLine(middle, beside);
    if ('tooSharpAt' in found) {
      const how = `${name} bends too sharply at corner ${found.tooSharpAt + 1} for a line ${sayNumber(Math.abs(beside))} m beside its middle`;
      return impossible(how, alongSpan);
    }
    const flown = i % 2 === 0 ? found.places : [...found.places].reverse();
    flown.forEach((place, corner) => {
      places.push({
        at: place,
        name: nameOfCorner(i + 1, corner, flown.length),
        line: i + 1,
        endsLine: corner > 0,
      });
    });
  }
  return onlyLines(item, text, places);
};

const courseOfCircle = (item: Item, text: CircleText): PatternCourse => {
  const name = item.id.value;
  const centre = given(text.around, `the middle of ${name}`).value;
  const radius = given(text.radius, `the radius of ${name}`);
  const turns = given(text.turns, `the number of turns of ${name}`);
  if (!(radius.value > 0)) return impossible(`${name} has a radius of 0 m`, radius.span);
  const sides = text.sides?.value ?? sidesFor(radius.value);
  if (sides < 3) return impossible(`${name} has fewer than three sides`, text.sides?.span ?? item.id.span);
  if (sides * turns.value > MOST_POINTS) {
    const count = sayNumber(sides * turns.value, 0);
    return impossible(`${name} would have ${count} sides; at most ${MOST_POINTS} are worked out`, turns.span);
  }
  const corners = cornersAround(centre, radius.value, {
    sides,
    turns: turns.value,
    begins: text.begins?.value ?? 0,
    turning: text.turning?.value ?? 'right',
  });
  const places = corners.map(({ at, bearing }, i): PatternPlace => {
    const turn = Math.min(turns.value, Math.floor(i / sides) + 1);
    const end = i === corners.length - 1 ? ' end' : '';
    return { at, name: `turn ${turn} bearing ${Math.round(bearing)} deg${end}`, line: turn, endsLine: i > 0 };
  });
  return { kind: 'flown', places };
};

export const courseOfPattern = (item: Item, pattern: PatternTerms, tools: FactTools): PatternCourse => {
  switch (pattern.kind) {
    case 'survey':
      return courseOfSurvey(item, pattern, tools);
    case 'corridor':
      return courseOfCorridor(item, pattern, tools);
    case 'circle':
      return courseOfCircle(item, pattern);
  }
};
