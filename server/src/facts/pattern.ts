import type { Item, ItemKind } from '../plan/model.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';
import { courseOfPattern, type PatternCourse } from './pattern-courses.ts';

/** The items that stand for many legs. */
const PATTERNS: ReadonlySet<ItemKind> = new Set(['survey', 'corridor', 'circle']);

export const isPattern = ({ kind }: Item): boolean => PATTERNS.has(kind);

/** The way of a survey, corridor or circle over the ground. */
export const patternCourse = defineFact({
  name: 'pattern-course',
  derive: (item: Item, tools: FactTools): PatternCourse => {
    if (item.pattern === undefined) throw new NotAssessed(`${item.kind} ${item.id.value} could not be read`);
    const { doubt } = item.pattern;
    if (doubt !== undefined) {
      throw new NotAssessed(`${doubt} of ${item.id.value} could not be read, so its legs are not known`);
    }
    return courseOfPattern(item, item.pattern, tools);
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
