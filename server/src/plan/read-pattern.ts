import { amountOf, heightOf, present, type Section, sectionOf, wordOf } from './fields.ts';
import type { LegTerms } from './model.ts';
import type { PatternTerms, SurveyText } from './pattern.ts';
import { readOutline } from './read-outline.ts';

/** Reads what a survey says of its lines. `terms` are those of the lines, which stand among its own keys. */
export const readSurvey = (section: Section, terms: LegTerms): PatternTerms => {
  const inside = sectionOf(section, 'inside');
  return present<SurveyText>({
    kind: 'survey',
    altitude: heightOf(section, 'altitude'),
    terms,
    outline: inside && readOutline(inside),
    outlineSpan: inside?.node.span,
    course: amountOf(section, 'course', 'angle'),
    spacing: amountOf(section, 'spacing', 'length'),
    firstTurn: wordOf(section, 'first-turn', ['left', 'right']),
  });
};
