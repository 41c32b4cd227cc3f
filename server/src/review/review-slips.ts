import type { Plan } from '../plan/model.ts';
import { NO_SETTINGS, type Settings } from '../plan/settings.ts';
import type { Slip } from '../plan/slip.ts';
import { byLevel, type Finding } from '../rulebook/finding.ts';
import { levelUnder, namesOf } from '../rulebook/rule.ts';
import { RULES } from '../rules/index.generated.ts';
import { type Span, startOf } from '../text/span.ts';
import { instant } from '../units/frames.ts';
import { emptyWorld } from '../world/world.ts';
import { findingsOf } from './group.ts';
import { judge } from './judge.ts';
import { Memory } from './memory.ts';

/** A plan that holds nothing but slips: how an aircraft or settings file is judged when it is open by itself. */
const planOfSlips = (document: string, slips: readonly Slip[], titleSpan: Span): Plan => ({
  document,
  site: {},
  crew: { observers: [] },
  terrain: [],
  airspace: [],
  runways: [],
  alongside: [],
  weather: {},
  preflight: [],
  authorisations: [],
  accepts: [],
  items: [],
  flights: [],
  slips,
  unread: [],
  titleSpan,
  headEnd: titleSpan,
  headEntry: { before: '', after: '\n' },
  eol: '\n',
});

/** The findings about a document that is not a plan: what the reader could not take as written. */
export const reviewSlips = (
  document: string,
  slips: readonly Slip[],
  titleSpan: Span,
  settings: Settings = NO_SETTINGS,
): readonly Finding[] => {
  const plan = planOfSlips(document, slips, titleSpan);
  const known = { plan, world: emptyWorld('not needed'), settings, ruleSet: undefined, now: instant(0) };
  const tools = new Memory().begin(known, namesOf(RULES));
  const findings: Finding[] = [];
  for (const rule of RULES) {
    if (rule.visits !== 'slip') continue;
    const steps = judge(rule, levelUnder(rule, undefined) ?? 'stop', tools);
    let step = steps.next();
    while (step.done !== true) step = steps.next();
    findings.push(...findingsOf(step.value, undefined));
  }
  return findings.sort((one, other) => byLevel(one.level, other.level) || startOf(one.at) - startOf(other.at));
};
