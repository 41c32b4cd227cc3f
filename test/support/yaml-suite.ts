import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const SUITE = join(import.meta.dirname, '../../../shared/data/suites/yaml');

/** One case of the YAML test suite. */
export interface SuiteCase {
  readonly id: string;
  readonly text: string;
  readonly mustFail: boolean;
}

export const SUITE_MISSING = existsSync(SUITE) ? undefined : 'the YAML test suite is not in ../shared/data';

/** Half of the YAML test suite (github.com/yaml/yaml-test-suite, MIT licence), read in place. */
export const yamlSuite = (): readonly SuiteCase[] =>
  readdirSync(SUITE, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('in.yaml'))
    .sort()
    .map((path) => {
      const id = path.slice(0, -'/in.yaml'.length);
      const meta = JSON.parse(readFileSync(join(SUITE, id, 'meta.json'), 'utf8')) as { fail?: boolean };
      return { id, text: readFileSync(join(SUITE, path), 'utf8'), mustFail: meta.fail === true };
    });
