import { readCheckArguments, UsageError } from './arguments.ts';
import { brief } from './brief.ts';
import { check } from './check.ts';
import { compare } from './compare.ts';
import type { Machine } from './machine.ts';
import { mend } from './mend.ts';
import { rules, tell } from './rules.ts';
import { plain } from './terminal.ts';
import { windows } from './windows.ts';

const HELP = `waywarden: lints drone mission plans (*.mission.yaml)

  waywarden check [PATH...|-]   judge plans; a folder yields the plans below it, - reads standard input
  waywarden compare BASE[...HEAD]
                                what a change does to the flights; without HEAD, the working tree
  waywarden mend [PATH...]      make the mends that leave the flight as it is; --dry-run only tells them
  waywarden windows PLAN --day DATE
                                the take-off times of a day at which no stop is found
  waywarden brief PLAN --out FILE.html
                                one page for the crew; --with FILE adds contacts from outside of git
  waywarden tell [RULE]         what a rule asks, why, and how to mend a plan; without a name, all rules
  waywarden rules               list the rules; --format json for machines
  waywarden serve --stdio       the language server, for any editor that speaks the protocol

check:
  --format FORMAT[=FILE]        several at once, again or after a comma; one may go to standard output:
                                text, json, sarif, sarif-platform, junit, github, gitlab, gnu, markdown,
                                markdown-summary, geojson, baseline
  --gate stop|caution|note      the level that fails the check (stop)
  --now TIME                    judge as if it were TIME, such as 2026-06-14T06:00-07:00
  --all-due                     count what is not yet due, too: the check on the morning of the flight
  --data DIR                    a folder that plans may name as data:...; also WAYWARDEN_DATA
  --stress                      judge again as if the day turned out worse, and tell what breaks first
  --baseline FILE               what was there before fails the check no more; a stop of a flight to come does
  --changed-since REF           judge only plans of which something that they read has changed
  --allow-empty                 let a run without any plan pass
  --name NAME                   the name of the plan on standard input

Exit code: 0 nothing at or above the gate; 1 something is; 2 the check could not be completed.
`;

/** Words after `--` are paths, whatever they look like. */
const untilDashes = (words: readonly string[]): readonly string[] => {
  const end = words.indexOf('--');
  return end < 0 ? words : words.slice(0, end);
};

const dispatch = async (
  verb: string | undefined,
  rest: readonly string[],
  machine: Machine,
  complain: (text: string) => void,
): Promise<number> => {
  if (verb === undefined) throw new UsageError(`no verb was given\n\n${HELP}`);
  if (verb === 'help' || [verb, ...untilDashes(rest)].some((word) => word === '--help' || word === '-h')) {
    await machine.print(HELP);
    return 0;
  }
  if (verb === '--version') {
    await machine.print(`${machine.version}\n`);
    return 0;
  }
  if (verb === 'check') return check(readCheckArguments(rest), machine, complain);
  if (verb === 'mend') return mend(rest, machine, complain);
  if (verb === 'compare') return compare(rest, machine);
  if (verb === 'brief') return brief(rest, machine);
  if (verb === 'windows') return windows(rest, machine);
  if (verb === 'tell') {
    await machine.print(tell(rest));
    return 0;
  }
  if (verb === 'rules') {
    await machine.print(rules(rest));
    return 0;
  }
  if (verb === 'serve') {
    if (rest.length !== 1 || rest[0] !== '--stdio') throw new UsageError('serve takes --stdio and nothing else');
    return machine.serve();
  }
  throw new UsageError(`there is no verb ${JSON.stringify(verb)}; see waywarden --help`);
};

/** Line breaks are ours; what comes from arguments is quoted and holds none. */
const lines = (text: string): string => text.split('\n').map(plain).join('\n').trimEnd();

/** Runs one call of the command line. Results go to standard output, everything else to `complain`. */
export const run = async (
  given: readonly string[],
  machine: Machine,
  complain: (text: string) => void,
): Promise<number> => {
  const [verb, ...rest] = given;
  try {
    return await dispatch(verb, rest, machine, complain);
  } catch (error) {
    if (error instanceof UsageError) complain(`waywarden: ${lines(error.message)}\n`);
    else
      complain(
        `waywarden: a fault of this program, please report it: ${lines(error instanceof Error ? (error.stack ?? error.message) : String(error))}\n`,
      );
    return 2;
  }
};
