import { type Output, UsageError } from './arguments.ts';
import type { Machine } from './machine.ts';
import { writeReport } from './write-report.ts';

/**
 * Writes all reports that were asked for, and nothing else. One that cannot be written costs none of the others; it is
 * told after them.
 */
export const writeOutputs = async (
  outputs: readonly Output[],
  machine: Machine,
  render: (output: Output) => string,
): Promise<void> => {
  const unwritten: string[] = [];
  for (const output of outputs) {
    const text = render(output);
    if (output.file === undefined) {
      await machine.print(text);
      continue;
    }
    const failure = await writeReport(output.file, text);
    if (failure !== undefined) unwritten.push(failure);
  }
  if (unwritten.length > 0) throw new UsageError(unwritten.join('; '));
};
