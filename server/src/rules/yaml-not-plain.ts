import type { SlipOf, YamlExtra } from '../plan/slip.ts';
import type { Fix } from '../rulebook/finding.ts';
import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, sayPlace, sayWritten } from '../rulebook/slip-words.ts';

const ARTICLES: Readonly<Record<YamlExtra, string>> = {
  alias: 'an alias',
  anchor: 'an anchor',
  'merge key': 'a merge key',
  tag: 'a tag',
  directive: 'a directive',
  'second document': 'a second document',
  'key that is not text': 'a key that is not text',
};

/** Without its tag a value is read as it stands. Anything else may be needed elsewhere. */
const fixesOf = (slip: SlipOf<'yaml-not-plain'>): readonly Fix[] =>
  slip.what === 'tag'
    ? [{ title: `Take out ${sayWritten(slip.text)}`, effect: 'changes-flight', edits: [{ span: slip.span, text: '' }] }]
    : [];

export default defineSlipRule({
  visits: 'slip',
  slip: 'yaml-not-plain',
  title: 'a feature of YAML is used that plans do not have',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'Anchors, aliases, tags and merge keys give one value two places, or change what a text means at a distance. A person who reviews a plan does not see that, so plans do without, and what uses them is not read.',
  condition: 'A plan is one document of keys, lists and plain or quoted text.',
  mend: 'Write the value out in full where it is wanted.',
  sources: [{ cite: 'YAML 1.2.2, 3.2, 6.8 and 6.9', edition: '2021-10-01', trust: 'from memory' }],
  needs: [],
  example: {
    faulty: 'purpose: !!str survey for a client\n',
    sound: 'purpose: survey for a client\n',
  },

  *check(slip) {
    const what =
      slip.what === 'second document' ? 'a second document' : `${ARTICLES[slip.what]} (${sayWritten(slip.text)})`;
    yield complaint(
      slip,
      `${sayPlace(slip)} uses ${what}, which plans do not have; what depends on it is not read`,
      fixesOf(slip),
    );
  },
});
