import { readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, test } from 'vitest';
import { type Crew, crewOf, threadsAllowed } from '../../server/src/cli/crew.ts';
import { instant } from '../../server/src/units/frames.ts';
import { callProcess, EVENING, isBuilt } from '../support/command-line.ts';
import { readProject } from '../support/project.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const TERMS = { now: instant(0), dataFolders: [], stress: false, map: false };
const ONE_CORE = availableParallelism() < 2;

/** A stand-in for the program: answers with what it was asked, and dies when told to. */
const PROGRAM = `import { parentPort } from 'node:worker_threads';
parentPort.on('message', (path) => {
  if (path === 'throw') throw new Error('a wheel came off');
  if (path === 'exit') process.exit();
  setTimeout(() => parentPort.postMessage({ unopened: path }), path === 'slow' ? 50 : 0);
});
`;

const crew = (): Crew => {
  const made = crewOf(pathToFileURL(join(temporaryFolder({ 'program.mjs': PROGRAM }), 'program.mjs')), TERMS, 100);
  if (made === undefined) throw new Error('there is one processor only');
  return made;
};

describe.skipIf(ONE_CORE)('threads (skipped where there is one processor)', () => {
  test('give each plan its own answer', async () => {
    const made = crew();
    const paths = ['slow', 'a', 'b', 'slow', 'c', 'd', 'e', 'f', 'g'];
    expect(await Promise.all(paths.map(made.judge))).toEqual(paths.map((path) => ({ unopened: path })));
    await made.close();
  });

  test('that die are a fault with the plan they had, and the others go on', async () => {
    const made = crew();
    const [thrown, fine] = await Promise.all([made.judge('throw'), made.judge('fine')]);
    expect(thrown).toEqual({ unopened: 'a fault of this program, please report it: a wheel came off' });
    expect(fine).toEqual({ unopened: 'fine' });
    expect(await made.judge('also')).toEqual({ unopened: 'also' });
    await made.close();
  });

  test('of which none is left answer, too', async () => {
    const made = crew();
    const dying = Array.from({ length: made.size }, () => made.judge('exit'));
    const waiting = made.judge('waiting');
    for (const outcome of await Promise.all(dying))
      expect(outcome).toEqual({ unopened: 'a fault of this program, please report it: a thread ended early' });
    const left = { unopened: 'a fault of this program, please report it: no thread is left to judge it' };
    expect(await waiting).toEqual(left);
    expect(await made.judge('late')).toEqual(left);
    await made.close();
  });

  test.each([
    ['1', 1],
    ['12', 12],
    ['0', 4],
    ['many', 4],
    ['', 4],
    [undefined, 4],
  ])('are allowed by the environment: %j is %j', (told, many) => {
    expect(threadsAllowed(told)).toBe(many);
  });

  test('are not started for a few plans', () => {
    expect(crewOf(new URL('file:///nowhere.mjs'), TERMS, 15)).toBeUndefined();
  });

  test.skipIf(!isBuilt)(
    'say the same as one thread, in the same order (skipped without a build)',
    async () => {
      const first = readProject('samples/first.mission.yaml');
      const texts = [
        first,
        first.replace('60 m AGL', '130 m AGL'),
        first.replace('reed-west\n', 'reed-east\n'),
        'a: [',
        '',
      ];
      const files = Object.fromEntries(
        Array.from({ length: 20 }, (_, i) => [`p${i}.mission.yaml`, texts[i % texts.length] ?? '']),
      );
      const folder = temporaryFolder(files);
      const reportsOf = (environment: Readonly<Record<string, string>>): readonly unknown[] => {
        const into = temporaryFolder();
        const formats = ['json', 'geojson', 'markdown', 'sarif', 'junit'];
        const words = formats.flatMap((format) => ['--format', `${format}=${join(into, format)}`]);
        const { code, err } = callProcess(['check', '--now', EVENING, ...words, folder], { environment });
        return [code, err, ...formats.map((format) => readFileSync(join(into, format), 'utf8'))];
      };
      const alone = reportsOf({ WAYWARDEN_THREADS: '1' });
      expect(alone.slice(0, 2)).toEqual([1, '']);
      expect(reportsOf({})).toEqual(alone);
    },
    60_000,
  );
});
