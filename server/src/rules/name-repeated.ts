import { defineSlipRule } from '../rulebook/rule.ts';
import { rewrites, sayWritten } from '../rulebook/slip-words.ts';

export default defineSlipRule({
  visits: 'slip',
  slip: 'name-repeated',
  title: 'two items of the route have the same name',
  question: 'Does the plan say what I mean?',
  level: 'caution',
  basis: 'language',
  why: 'Findings, reports and radio calls name the item. Where two have one name, a remark about one is taken for a remark about the other.',
  condition: 'Each point, area and pattern of a plan has a name of its own.',
  mend: 'Give one of them another name.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: `route:
  - take-off: home
  - point: east-bank
    at: 47.5, -120.498
    altitude: 60 m AGL
    leg: { speed: 8 m/s over ground }
  - point: east-bank
    at: 47.501, -120.498
    altitude: 60 m AGL
    leg: { speed: 8 m/s over ground }
  - land: home
`,
    sound: `route:
  - take-off: home
  - point: east-bank
    at: 47.5, -120.498
    altitude: 60 m AGL
    leg: { speed: 8 m/s over ground }
  - point: north-bank
    at: 47.501, -120.498
    altitude: 60 m AGL
    leg: { speed: 8 m/s over ground }
  - land: home
`,
  },

  *check(slip) {
    const message = `${sayWritten(slip.name)} names two items of the route, so a finding about one can be taken for the other`;
    const related = [{ at: slip.first, message: `here ${sayWritten(slip.name)} stands for the first time` }];
    const fixes = rewrites({ ...slip, text: slip.name }, 'same-flight', [slip.mended]);
    yield { found: { at: slip.span, subject: slip.subject, message, related, fixes } };
  },
});
