import type { Authorisation } from '../plan/authorisation.ts';
import type { Written } from '../text/span.ts';

/** A section of 14 CFR part 107 that a waiver can lift. */
export interface WaivableSection {
  readonly section: string;
  /** What it is about, in a sentence: "seeing the aircraft". */
  readonly about: string;
  /** No waiver of it is given for carrying the property of somebody else for pay. */
  readonly notForHire?: true;
}

/** 14 CFR 107.205: all that can be waived. Of 107.29 only the light can, not the training in its (a)(1). */
export const WAIVABLE_SECTIONS: readonly WaivableSection[] = [
  { section: '107.25', about: 'flying from a moving vehicle or aircraft', notForHire: true },
  { section: '107.29(a)(2)', about: 'the light at night' },
  { section: '107.29(b)', about: 'the light in civil twilight' },
  { section: '107.31', about: 'seeing the aircraft', notForHire: true },
  { section: '107.33', about: 'observers' },
  { section: '107.35', about: 'several aircraft' },
  { section: '107.37(a)', about: 'giving way' },
  { section: '107.39', about: 'flying over people' },
  { section: '107.41', about: 'controlled airspace' },
  { section: '107.51', about: 'speed, height, visibility and clouds' },
  { section: '107.145', about: 'flying over moving vehicles' },
];

/** Whether one section is another, or a paragraph of it: 107.51(b) of 107.51. */
export const isPartOf = (part: string, whole: string): boolean => part === whole || part.startsWith(`${whole}(`);

/** The entry that lets a section be waived; undefined where it cannot be. */
export const waivable = (section: string): WaivableSection | undefined =>
  WAIVABLE_SECTIONS.find((one) => isPartOf(section, one.section));

/** The paragraphs of a section that can be waived where it cannot be as a whole. */
export const waivableIn = (section: string): readonly string[] =>
  WAIVABLE_SECTIONS.filter((one) => isPartOf(one.section, section)).map((one) => one.section);

const SECTION = /^107\.\d+(?:\([a-z0-9]+\))*$/i;

export const isSection = (text: string): boolean => SECTION.test(text);

/** "14 CFR 107.51(b)" and "§ 107.51(b)" are 107.51(b). */
export const bareSection = (text: string): string =>
  text
    .trim()
    .replace(/^14\s*CFR\s*/i, '')
    .replace(/^(?:part|section)\s+/i, '')
    .replace(/^§+\s*/, '')
    .replace(/\s+/g, '')
    .toLowerCase();

/** The sections that a text names: "107.29(a)(2) and (b)" names two. What is no section stays as it is written. */
const sectionsIn = (text: string): readonly string[] => {
  const found: string[] = [];
  for (const part of text.split(/[,;]|\band\b/)) {
    const bare = bareSection(part);
    if (bare === '') continue;
    const before = found.at(-1)?.match(/^107\.\d+/)?.[0];
    found.push(bare.startsWith('(') && before !== undefined ? `${before}${bare}` : bare);
  }
  return found;
};

export interface NamedSection {
  readonly section: string;
  readonly written: Written<string>;
}

/** Whether the zone of an authorisation is a section in truth: the older way to write a waiver. */
export const isWrittenAsZone = ({ zone, sections }: Authorisation): boolean =>
  zone !== undefined && sections.length === 0 && /^107\.\d/.test(bareSection(zone.value));

/** The sections that an authorisation waives, in the order of the text; none where it is for a zone only. */
export const namedSections = (paper: Authorisation): readonly NamedSection[] => {
  const { zone, sections } = paper;
  const texts = zone !== undefined && isWrittenAsZone(paper) ? [zone] : sections;
  return texts.flatMap((written) => sectionsIn(written.value).map((section) => ({ section, written })));
};
