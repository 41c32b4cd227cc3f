import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { makeRepository } from '../support/made-repository.ts';
import { inProject, readProject } from '../support/project.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

interface Step {
  readonly run: string;
  readonly env?: Readonly<Record<string, string>>;
}

const EVENING = '2027-06-11T18:00-07:00';
const FIRST = readProject('samples/first.mission.yaml');

/**
 * The steps of the action, of the hook and of the job, run as their platforms run them: by a checkout without built files
 * (its packages are linked in, so that no test needs a network), on a repository that it reads as data.
 */
describe('ready to use', () => {
  const tool = temporaryFolder();
  const plans = temporaryFolder();
  const action = parse(readProject('.github/actions/check/action.yml')) as {
    readonly runs: { readonly steps: readonly Step[] };
    readonly inputs: Readonly<Record<string, { readonly default: string }>>;
  };

  beforeAll(() => {
    for (const path of [
      '.github',
      'server',
      'client',
      'schemas',
      'esbuild.mjs',
      'package.json',
      'package-lock.json',
      'tsconfig.json',
    ]) {
      cpSync(inProject(path), join(tool, path), { recursive: true });
    }
    symlinkSync(inProject('node_modules'), join(tool, 'node_modules'));
    expect(existsSync(join(tool, 'dist'))).toBe(false);
    const made = makeRepository(plans);
    cpSync(inProject('samples'), join(plans, 'samples'), { recursive: true });
    writeFileSync(
      join(plans, 'package.json'),
      '{ "scripts": { "prepare": "touch pwned", "postinstall": "touch pwned" } }',
    );
    made.commit('plans');
    made.put('samples/first.mission.yaml', FIRST.replace('60 m AGL', '140 m AGL'));
    made.commit('higher');
  });

  const runAction = (inputs: Readonly<Record<string, string>>) => {
    const given = {
      ...Object.fromEntries(Object.entries(action.inputs).map(([name, input]) => [name, input.default])),
      ...inputs,
    };
    let code: number | null = 0;
    let out = '';
    for (const { run, env = {} } of action.runs.steps) {
      const filled = Object.entries(env).map(([name, value]): [string, string] => [
        name,
        value.replace(/\$\{\{ inputs\.([\w-]+) \}\}/, (_, input: string) => given[input] ?? ''),
      ]);
      const done = spawnSync('bash', ['--noprofile', '--norc', '-eo', 'pipefail', '-c', run], {
        cwd: plans,
        encoding: 'utf8',
        env: {
          ...process.env,
          ...Object.fromEntries(filled),
          GITHUB_ACTION_PATH: join(tool, '.github/actions/check'),
          GITHUB_STEP_SUMMARY: join(tool, 'summary.md'),
          GITHUB_WORKSPACE: plans,
        },
      });
      out += done.stdout + done.stderr;
      code = done.status;
      if (code !== 0) break;
    }
    return { code, out };
  };

  test('the action judges plans, annotates them, and writes the summary of the job', () => {
    const { code, out } = runAction({
      paths: 'samples/first.mission.yaml',
      now: EVENING,
      'sarif-file': join(tool, 'found.sarif'),
    });
    expect(code, out).toBe(1);
    expect(out).toMatch(/^::error file=samples\/first\.mission\.yaml,line=\d+/m);
    expect(readFileSync(join(tool, 'summary.md'), 'utf8')).toContain('point-above-height-limit');
    expect(JSON.parse(readFileSync(join(tool, 'found.sarif'), 'utf8'))).toMatchObject({ version: '2.1.0' });
    expect(existsSync(join(plans, 'pwned'))).toBe(false);
  });

  test('the action compares with a base and writes the comment', () => {
    const comment = join(tool, 'comment.md');
    const { code, out } = runAction({
      paths: 'samples/first.mission.yaml',
      now: EVENING,
      base: 'HEAD~1',
      'comment-file': comment,
    });
    expect(code).toBe(1);
    expect(out).toContain('introduced');
    expect(readFileSync(comment, 'utf8')).toContain('## Mission plans: to be looked at');
  });

  test('inputs are never part of a script', () => {
    const { code, out } = runAction({
      paths: '$(touch pwned)\n; touch pwned',
      now: EVENING,
      base: '--upload-pack=touch pwned',
    });
    expect(code).toBe(2);
    expect(out).toContain('not opened');
    expect(existsSync(join(plans, 'pwned'))).toBe(false);
  });

  test('the hook takes the plans of a commit', () => {
    const [hook] = parse(readProject('.pre-commit-hooks.yaml')) as readonly {
      readonly entry: string;
      readonly files: string;
    }[];
    const files = ['samples/first.mission.yaml', 'samples/fleet/dipper-1.aircraft.yaml', 'notes.md'].filter((path) =>
      new RegExp(hook?.files ?? '').test(path),
    );
    expect(files).toEqual(['samples/first.mission.yaml']);
    const { bin } = JSON.parse(readProject('package.json')) as { readonly bin: Readonly<Record<string, string>> };
    const [command = '', ...words] = (hook?.entry ?? '').split(' ');
    const done = spawnSync('node', [join(tool, bin[command] ?? ''), ...words, '--now', EVENING, ...files], {
      cwd: plans,
      encoding: 'utf8',
    });
    expect(done.status, done.stderr).toBe(1);
  });

  test('the job writes what its platform reads', () => {
    const { 'mission-plans': job } = parse(readProject('.gitlab/check.yml')) as {
      readonly 'mission-plans': {
        readonly script: readonly string[];
        readonly variables: Readonly<Record<string, string>>;
      };
    };
    const done = spawnSync('bash', ['-e', '-c', job.script.join('\n')], {
      cwd: plans,
      encoding: 'utf8',
      env: { ...process.env, ...job.variables, WAYWARDEN: tool, WAYWARDEN_PATHS: 'samples/first.mission.yaml' },
    });
    expect(done.status, done.stderr).toBe(1);
    expect(
      (JSON.parse(readFileSync(join(plans, 'mission-plans.json'), 'utf8')) as readonly unknown[]).length,
    ).toBeGreaterThan(0);
    expect(readFileSync(join(plans, 'mission-plans.xml'), 'utf8')).toContain('<testsuite');
  });
});
