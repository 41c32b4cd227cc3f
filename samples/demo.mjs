// Runs the command line on the sample plans and says what each step shows. `npm run demo` builds it first.
// Ends with 0 when every step went as it should.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const samples = dirname(fileURLToPath(import.meta.url));
const root = dirname(samples);
const commandLine = join(root, 'dist', 'server', 'waywarden.mjs');

// The plans are for June 2027. A fixed time of checking keeps this page the same on every day.
const NOW = '2027-06-11T18:00-07:00';
const REPORT = join('build', 'demo-report.json');

const surprises = [];

// A reader that leaves, such as "head", is no fault.
process.stdout.on('error', () => process.exit());

// The command line writes into a pipe here; what it would do in the terminal is decided for it.
const colours = process.stdout.isTTY === true && process.env.FORCE_COLOR === undefined ? { FORCE_COLOR: '1' } : {};

const run = (words, expected) => {
  const env = { ...process.env, ...colours };
  const done = spawnSync(process.execPath, [commandLine, ...words], { cwd: root, encoding: 'utf8', env });
  if (done.error !== undefined) surprises.push(`"${words.join(' ')}" could not be run: ${done.error.message}`);
  else if (done.status !== expected) {
    surprises.push(`"${words.join(' ')}" ended with ${done.status}; ${expected} was expected\n${done.stderr}`);
  }
  return done.stdout ?? '';
};

const say = (text) => process.stdout.write(`${text}\n`);

const step = (title, explanation, words, expected) => {
  say(`\n── ${title}\n`);
  say(explanation);
  say(`\n$ waywarden ${words.join(' ')}\n`);
  say(run(words, expected).trimEnd());
};

say(
  'Marrowmere is an invented outfit that surveys land and water with drones. These are its plans, judged by Waywarden.',
);

step(
  '1. A plan in which nothing is found',
  'The smallest whole plan: who flies what, when and where, over which ground, and what the crew has seen. Below come\nthe places where it is nearest to a limit, so that you see what was worked out.',
  ['check', '--now', NOW, 'samples/first.mission.yaml'],
  0,
);

step(
  '2. The trap in most plans',
  'Both points are 70 m above their own ground. Between them the ground falls away, and the aircraft, which flies a\nstraight line, is above the limit. The finding says where, by how much and by which law; each "mend" is a quick\nfix in the editor.',
  ['check', '--now', NOW, 'samples/missions/over-the-gap.mission.yaml'],
  1,
);

step(
  '3. Why that rule exists',
  'Every rule explains itself: what would happen, the exact condition, how to mend a plan, and its source.',
  ['tell', 'leg-above-height-limit'],
  0,
);

step(
  '4. Many faults at once',
  'Slips of the hand, papers out of date, ground, masts and zones. What could not be judged is told with its reason:\nsilence never means that all is well. The plan itself explains each fault in a comment beside it.',
  ['check', '--now', NOW, 'samples/missions/many-faults.mission.yaml'],
  1,
);

mkdirSync(join(root, 'build'), { recursive: true });
const all = ['check', '--now', NOW, '--format', `json=${REPORT}`, 'samples'];
say('\n── 5. The same for machines\n');
say(
  'All samples in one go, with the report as JSON. Exit code 1 stops a CI job; schemas/report.schema.json describes it.',
);
say(`\n$ waywarden ${all.join(' ')}\n`);
run(all, 1);
try {
  const report = JSON.parse(readFileSync(join(root, REPORT), 'utf8'));
  for (const plan of report.plans) {
    const worst = plan.worst ?? 'nothing found';
    const open = plan.gaps.length === 0 ? '' : `, ${plan.gaps.length} not assessed`;
    say(`${plan.path}: ${worst}${open}`);
  }
  if (report.plans.length < 7) surprises.push(`the report holds ${report.plans.length} plans; there are more samples`);
} catch (error) {
  surprises.push(`${REPORT} could not be read: ${error.message}`);
}

say(`
── Where to look next

${REPORT}          the report of step 5
samples/README.md               the plans in the order in which to read them
samples/first.mission.yaml      copy it and change it: a plan of your own
The editor                      npm run package, then install waywarden.vsix; or open this folder in VS Code and press F5.
                                Open samples/missions/many-faults.mission.yaml and hover over what is underlined.
`);

if (surprises.length > 0) {
  process.stderr.write(`The demo did not go as it should:\n${surprises.map((text) => `  ${text}`).join('\n')}\n`);
  process.exitCode = 1;
}
