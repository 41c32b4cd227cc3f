import type { Judgement } from './finding.ts';

/** Long work as a rule does it: `const far = yield* inSteps(...)`. Between two steps the engine lets others run. */
export function* inSteps<T>(work: Generator<void, T>): Generator<Judgement, T> {
  for (;;) {
    const step = work.next();
    if (step.done === true) return step.value;
    yield { pause: true };
  }
}
