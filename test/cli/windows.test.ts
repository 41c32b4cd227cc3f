import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import type { JsonReport } from '../../server/src/cli/formats/json.ts';
import type { windowsReport } from '../../server/src/cli/formats/windows.ts';
import { sayRfc3339 } from '../../server/src/units/calendar.ts';
import { instant } from '../../server/src/units/frames.ts';
import { call } from '../support/command-line.ts';
import { readProject } from '../support/project.ts';
import { seeded } from '../support/random.ts';

type Answer = ReturnType<typeof windowsReport>;

const validate = new Ajv2020({ strict: true, formats: { 'date-time': true } }).compile(
  JSON.parse(readProject('schemas/windows.schema.json')) as object,
);

const FERRY = 'samples/missions/ferry-film.mission.yaml';

/** A day is over a thousand reviews, so each is asked for once. */
const asked = new Map<string, Answer>();

const answerFor = async (plan: string, day: string): Promise<Answer> => {
  const known = asked.get(`${plan} ${day}`);
  if (known !== undefined) return known;
  const { out, err } = await call(['windows', plan, '--day', day, '--format', 'json']);
  expect(err).toBe('');
  const answer = JSON.parse(out) as Answer;
  asked.set(`${plan} ${day}`, answer);
  return answer;
};

/** The stops that a check in a minute finds, of the plan with its window written anew to begin then. */
const stopsAt = async (plan: string, at: number, lasts: number): Promise<readonly string[]> => {
  const [from, until] = [at, at + lasts * 60_000].map((time) =>
    sayRfc3339(instant(time)).replace('T', ' ').replace('Z', ' Z'),
  );
  const text = readProject(plan).replace(/^window:.*$/m, `window: { from: ${from}, until: ${until} }`);
  const { out } = await call(['check', '-', '--name', plan, '--format', 'json', '--now', sayRfc3339(instant(at))], {
    input: text,
  });
  const [found] = (JSON.parse(out) as JsonReport).plans;
  return (found?.findings ?? [])
    .filter(({ level }) => level === 'stop')
    .map(({ rule, subject }) => `${rule} ${subject}`);
};

describe('the take-off times of a day', () => {
  test('are told with the reason at each edge, and fill the day', async () => {
    const answer = await answerFor(FERRY, '2027-06-12');
    expect(validate(answer), JSON.stringify(validate.errors)).toBe(true);
    const { spans } = answer;
    expect(spans[0]?.from).toBe('2027-06-12T07:00:00Z');
    expect(spans.at(-1)?.until).toBe('2027-06-13T06:59:00Z');
    spans.slice(1).forEach((span, i) => {
      expect(Date.parse(span.from) - Date.parse(spans[i]?.until ?? '')).toBe(60_000);
    });
    // The authorisation of the plan holds from 06:30 to 09:00, and the window lasts 45 minutes.
    const open = spans.filter(({ stops }) => stops.length === 0);
    expect(open.map(({ from, until }) => [from, until])).toEqual([['2027-06-12T13:30:00Z', '2027-06-12T15:15:00Z']]);
    expect(open[0]?.edges.earlier.map(({ rule }) => rule)).toEqual(['zone-entered-unauthorised']);
    expect(open[0]?.edges.later[0]?.message).toContain('ends at 2027-06-12 09:00 -07:00');
  });

  test.each([[FERRY, '2027-06-12']])(
    'say of %s what a check in that minute says of the plan moved there',
    async (plan, day) => {
      const { spans, lastsMinutes } = await answerFor(plan, day);
      const random = seeded(20_261_125);
      const begin = Date.parse(spans[0]?.from ?? '');
      const minutes = [
        ...Array.from({ length: 6 }, () => begin + Math.floor(random() * 1440) * 60_000),
        ...spans.slice(0, 6).flatMap(({ from, until }) => [Date.parse(from), Date.parse(until)]),
      ];
      for (const at of minutes) {
        const span = spans.find(({ from, until }) => Date.parse(from) <= at && at <= Date.parse(until));
        expect(span?.stops.map(({ rule, subject }) => `${rule} ${subject}`).sort(), new Date(at).toISOString()).toEqual(
          [...(await stopsAt(plan, at, lastsMinutes))].sort(),
        );
      }
    },
  );

  test('as text name the edges in the time of the plan', async () => {
    const { out, code } = await call(['windows', FERRY, '--day', '2027-06-12']);
    expect(code).toBe(0);
    expect(out).toContain('06:30 to 08:15  no stop found');
    expect(out).toContain('earlier: zone-entered-unauthorised: ');
    expect(out).not.toMatch(/\bsafe\b|\blegal\b|\bclear\b/);
  });
});

describe('a question that cannot be put', () => {
  test.each([
    [['windows'], 'windows takes one plan'],
    [['windows', FERRY], 'windows needs a day'],
    [['windows', FERRY, '--day', 'tomorrow'], '--day takes a date'],
    [['windows', FERRY, '--day', '2027-06-12', '--format', 'sarif'], 'windows prints text or json'],
    [['windows', 'samples/none.mission.yaml', '--day', '2027-06-12'], 'cannot be opened'],
  ])('%s ends with 2 and says why', async (words, why) => {
    const { code, err, out } = await call(words);
    expect(code).toBe(2);
    expect(err).toContain(why);
    expect(out).toBe('');
  });
});
