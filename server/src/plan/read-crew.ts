import type { Written } from '../text/span.ts';
import type { LonLat } from '../units/frames.ts';
import {
  asPosition,
  asSection,
  dateOf,
  fieldOf,
  listOf,
  present,
  type Section,
  sectionOf,
  textOf,
  wordOf,
} from './fields.ts';
import type { Crew, CrewMember } from './model.ts';
import { nearestWord } from './scalars/nearest-word.ts';

export const readCrew = (section: Section | undefined): Crew => {
  const pilot = sectionOf(section, 'pilot');
  const observers = listOf(section, 'observers').flatMap((field) => {
    const observer = asSection(field);
    return observer === undefined ? [] : [readMember(observer, 'observer')];
  });
  return present<Crew>({
    span: section?.node.span,
    pilot: pilot && readMember(pilot, 'pilot'),
    observers,
  });
};

const readMember = (section: Section, role: CrewMember['role']): CrewMember =>
  present<CrewMember>({
    span: section.node.span,
    role,
    name: textOf(section, role === 'pilot' ? 'by' : 'name'),
    stands: readStands(section, role),
    held: textOf(section, 'held'),
    tested: dateOf(section, 'tested'),
    seenBy: textOf(section, 'seen-by'),
    watches: wordOf(section, 'watches', ['unaided', 'goggles']),
    talksBy: textOf(section, 'talks-by'),
    moves: wordOf(section, 'moves', ['land vehicle', 'boat', 'aircraft']),
  });

type Stand = LonLat | 'take-off' | 'beside pilot';

/** `take-off`, `beside pilot` (observers only), or a position. */
const readStands = (section: Section, role: CrewMember['role']): Written<Stand> | undefined => {
  const field = fieldOf(section, 'stands');
  if (field === undefined) return undefined;
  const { node, path, notes } = field;
  if (node.kind !== 'scalar') return asPosition(field);
  const words: readonly Stand[] = role === 'pilot' ? ['take-off'] : ['beside pilot', 'take-off'];
  const word = words.find((each) => each === node.text.trim().toLowerCase());
  if (word !== undefined) return { value: word, span: node.span };
  if (/\d/.test(node.text) || node.text === '') return asPosition(field);
  const choices = [...words.map(String), 'a position'];
  const suggestion = nearestWord(node.text, words.map(String));
  notes.refuse(node, path, {
    kind: 'word-unknown',
    text: node.text,
    choices,
    ...(suggestion !== undefined && { suggestion }),
  });
  return undefined;
};
