import { baselineOf } from '../baseline.ts';
import type { Run } from '../checked.ts';
import { jsonLine } from './json.ts';

/** A baseline: sorted, an entry a line and without a time, so that two people's changes to it can be merged. */
export const baselineText = (run: Run, folder: string): string => {
  const lines = baselineOf(run, folder).entries.map((entry) => `    ${jsonLine(entry)}`);
  const list = lines.length === 0 ? '[]' : `[\n${lines.join(',\n')}\n  ]`;
  return `{\n  "format": 1,\n  "entries": ${list}\n}\n`;
};
