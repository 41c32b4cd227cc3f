import {
  amountOf,
  asList,
  asPosition,
  countOf,
  fieldOf,
  heightOf,
  positionOf,
  present,
  type Section,
  sectionOf,
  wordOf,
} from './fields.ts';
import type { LegTerms, WrittenPosition } from './model.ts';
import type { CircleText, CorridorText, Overlap, PatternTerms, PhotoText, SurveyText } from './pattern.ts';
import { readCamera } from './read-camera.ts';
import { readOutline } from './read-outline.ts';

/** What the reader of items has read already: the terms of the lines, and where a key can be put in. */
interface KnownParts {
  readonly terms: LegTerms;
  readonly nextKey: PatternTerms['nextKey'] | undefined;
}

/** Keys whose absence means something: that of one that could not be read must not mean the same. */
const DECIDING: readonly string[] = [
  'spacing',
  'overlap',
  'camera',
  'lines',
  'first-turn',
  'first-line',
  'last-line',
  'turning',
  'begins',
  'sides',
  'follows',
];

const doubtOf = ({ node, notes }: Section): string | undefined => {
  if (notes.broken) return 'a part';
  const unread = node.entries.find(({ key, value }) => DECIDING.includes(key.text) && notes.isTold(value));
  if (unread !== undefined) return `the ${unread.key.text}`;
  for (const slip of notes.slips) {
    if (slip.kind === 'key-unknown' && slip.suggestion !== undefined && DECIDING.includes(slip.suggestion)) {
      return `the ${slip.suggestion}`;
    }
  }
  return undefined;
};

/** Reads what a survey, a corridor or a circle says of its legs. */
export const readPattern = (kind: PatternTerms['kind'], section: Section, known: KnownParts): PatternTerms => {
  const terms = readTerms(kind, section, known);
  const doubt = doubtOf(section);
  return doubt === undefined ? terms : { ...terms, doubt };
};

const readTerms = (kind: PatternTerms['kind'], section: Section, known: KnownParts): PatternTerms => {
  const altitude = heightOf(section, 'altitude');
  switch (kind) {
    case 'survey': {
      const inside = sectionOf(section, 'inside');
      return present<SurveyText>({
        kind,
        altitude,
        ...known,
        ...readPhotos(section),
        outline: inside && readOutline(inside),
        outlineSpan: inside?.node.span,
        course: amountOf(section, 'course', 'angle'),
      });
    }
    case 'corridor':
      return present<CorridorText>({
        kind,
        altitude,
        ...known,
        ...readPhotos(section),
        along: readLine(section),
        alongSpan: fieldOf(section, 'along')?.node.span,
        width: amountOf(section, 'width', 'length'),
        lines: countOf(section, 'lines'),
      });
    case 'circle':
      return present<CircleText>({
        kind,
        altitude,
        ...known,
        around: positionOf(section, 'around'),
        radius: amountOf(section, 'radius', 'length'),
        turns: countOf(section, 'turns'),
        turning: wordOf(section, 'turning', ['left', 'right']),
        begins: amountOf(section, 'begins', 'angle'),
        sides: countOf(section, 'sides'),
      });
  }
};

const readPhotos = (section: Section): { readonly [K in keyof PhotoText]-?: PhotoText[K] | undefined } => ({
  spacing: amountOf(section, 'spacing', 'length'),
  overlap: readOverlap(sectionOf(section, 'overlap')),
  camera: readCamera(sectionOf(section, 'camera')),
  groundSamplingDistance: amountOf(section, 'ground-sampling-distance', 'length'),
  firstTurn: wordOf(section, 'first-turn', ['left', 'right']),
  firstLine: countOf(section, 'first-line'),
  lastLine: countOf(section, 'last-line'),
});

const readOverlap = (section: Section | undefined): Overlap | undefined =>
  section &&
  present<Overlap>({
    span: section.node.span,
    front: amountOf(section, 'front', 'share'),
    side: amountOf(section, 'side', 'share'),
  });

/** The corners of a corridor's middle; undefined unless all of them could be read: without one it would be another. */
const readLine = (section: Section): readonly WrittenPosition[] | undefined => {
  const field = fieldOf(section, 'along');
  if (field === undefined) return undefined;
  const line = asList(field).flatMap((corner) => asPosition(corner) ?? []);
  const { node } = field;
  return node.kind === 'sequence' && line.length === node.items.length && line.length >= 2 ? line : undefined;
};
