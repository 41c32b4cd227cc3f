import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'a file that the plan refers to cannot be used',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'Ground, airspace, obstacles, people, runways and aircraft come from these files. Whatever hangs on a file that cannot be used was not checked.',
  condition:
    'Each reference is relative to the plan, stays inside the repository (or names a data folder granted on this machine as `data:...`), exists, and holds what its kind needs.',
  mend: 'Correct the reference or the file. The rest of the plan is checked all the same.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: ['terrain', 'airspace', 'obstacles', 'people', 'aircraft'],
  example: { faulty: 'terrain: no-such-file.tif\n', sound: 'terrain: ground.tif\n' },

  *check(plan, { world }) {
    const files = plan.obstacles?.kind === 'list' ? plan.obstacles.files : [];
    const references = [
      ...plan.terrain,
      ...(plan.geoid === undefined ? [] : [plan.geoid]),
      ...plan.airspace.flatMap((file) => (file.mapping === undefined ? [file] : [file, file.mapping])),
      ...files,
      ...(plan.people?.files ?? []),
      ...plan.runways,
      ...plan.alongside,
      ...(plan.aircraft === undefined ? [] : [plan.aircraft]),
      ...(plan.weather.reports ?? []),
    ];
    const told = new Set<string>();
    for (const reference of references) {
      if (told.has(reference.value)) continue;
      told.add(reference.value);
      for (const problem of world.problems.get(reference.value) ?? []) {
        yield {
          found: {
            at: reference.span,
            subject: `reference ${reference.value}`,
            message: `"${reference.value}" ${problem}`,
          },
        };
      }
    }
  },
});
