import type { Written } from '../text/span.ts';
import { amountOf, asText, countOf, entriesOf, listOf, present, type Section, wordOf } from './fields.ts';
import { BUFFERS, type GroundRisk, MITIGATIONS, type Mitigation, POPULATIONS, SORA_EDITIONS } from './ground-risk.ts';

const readMitigations = (section: Section): readonly Written<Mitigation>[] =>
  listOf(section, 'mitigations').flatMap((field) => {
    const text = asText(field);
    const word = MITIGATIONS.find((each) => each === text?.value);
    return text === undefined || word === undefined ? [] : [{ value: word, span: text.span }];
  });

export const readGroundRisk = (section: Section | undefined): GroundRisk | undefined => {
  if (section === undefined) return undefined;
  const mitigations = readMitigations(section);
  return present<GroundRisk>({
    span: section.node.span,
    edition: wordOf(section, 'edition', SORA_EDITIONS),
    density: amountOf(section, 'density', 'density'),
    controlledGround: wordOf(section, 'controlled-ground', ['yes', 'no']),
    population: wordOf(section, 'population', POPULATIONS),
    sight: wordOf(section, 'sight', ['VLOS', 'BVLOS']),
    buffer: wordOf(section, 'buffer', BUFFERS),
    initialClass: countOf(section, 'initial-class'),
    mitigations,
    mitigationsUnread: mitigations.length < entriesOf(section, 'mitigations'),
    finalClass: countOf(section, 'final-class'),
  });
};
