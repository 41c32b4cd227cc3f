import { CompletionItemKind } from 'vscode-languageserver';
import { PREFLIGHT_GROUPS } from '../../facts/preflight.ts';
import type { Box } from '../../geo/box.ts';
import type { Plan } from '../../plan/model.ts';
import type { Finding } from '../../rulebook/finding.ts';
import { isAcceptable, type Rule } from '../../rulebook/rule.ts';
import { WAIVABLE_SECTIONS } from '../../rulebook/waiver-sections.ts';
import { inPlainText } from '../../rulebook/words.ts';
import { RULES } from '../../rules/index.generated.ts';
import { type CalendarDate, dateAt, sayDate, sayOffset, sayTime } from '../../units/calendar.ts';
import { degrees, type Instant } from '../../units/frames.ts';
import { isMissing, type World } from '../../world/world.ts';
import type { Suggestion } from './suggestion.ts';

/** What is known of a document beside its text; of a text that is half typed it may be that of a moment ago. */
export interface Known {
  readonly plan?: Plan;
  readonly world?: World;
  readonly findings: readonly Finding[];
  readonly now: Instant;
}

const ofRule = (rule: Rule, rank: number, detail?: string): Suggestion => ({
  label: rule.id,
  kind: CompletionItemKind.Value,
  detail: detail ?? rule.title,
  documentation: `${rule.title}\n\n${rule.why}`,
  rank,
});

/** Rules that can be accepted; what is found in this plan comes first. */
const acceptable = ({ findings }: Known): readonly Suggestion[] => {
  const found = new Set(findings.map(({ rule }) => rule));
  return RULES.filter(isAcceptable).map((rule) =>
    ofRule(rule, found.has(rule.id) ? 0 : 1, found.has(rule.id) ? `found here: ${rule.title}` : undefined),
  );
};

const EVERYWHERE: Box = { west: degrees(-180), south: degrees(-90), east: degrees(180), north: degrees(90) };
const MOST_ZONES = 500;

const zonesOf = ({ world }: Known) =>
  world === undefined || isMissing(world.airspace) ? [] : world.airspace.zonesIn(EVERYWHERE).slice(0, MOST_ZONES);

/** What an authorisation can be for: a zone of the plan's airspace, or a section that a waiver lifts. */
const authorised = (known: Known): readonly Suggestion[] => {
  const entered = known.findings.filter(({ rule }) => rule.startsWith('zone-entered')).map(({ subject }) => subject);
  const zones = zonesOf(known)
    .filter(({ kind }) => kind !== 'cell')
    .map(({ id, name, kind, airspaceClass }) => ({
      label: id,
      text: inPlainText(id),
      kind: CompletionItemKind.Reference,
      detail: `${name}, ${airspaceClass === undefined ? kind : `class ${airspaceClass}`}`,
      matched: `${id} ${name}`,
      rank: entered.some((subject) => subject.includes(id) || subject.includes(name)) ? 0 : 1,
    }));
  return [...zones, ...waivableSections()];
};

/** The sections that a waiver can lift: 14 CFR 107.205. */
const waivableSections = (): readonly Suggestion[] =>
  WAIVABLE_SECTIONS.map(({ section, about }) => ({
    label: `14 CFR ${section}`,
    kind: CompletionItemKind.Constant,
    detail: `section that a waiver can lift: ${about}`,
    rank: 2,
  }));

const gridsOf = (known: Known): readonly Suggestion[] =>
  [...new Set(zonesOf(known).flatMap(({ grants }) => grants?.grid ?? []))].map((grid) => ({
    label: grid,
    text: inPlainText(grid),
    kind: CompletionItemKind.Reference,
    detail: 'grid of granted heights',
  }));

/** Roles of the crew, by which a plan names people. */
const rolesOf = ({ plan }: Known): readonly Suggestion[] =>
  ['pilot', ...(plan?.crew.observers ?? []).flatMap(({ name }) => name?.value ?? [])].map((label) => ({
    label,
    kind: CompletionItemKind.Reference,
    detail: label === 'pilot' ? 'remote pilot in command' : 'observer of this plan',
  }));

const named = (names: readonly (string | undefined)[], detail: string): readonly Suggestion[] =>
  [...new Set(names)].flatMap((name) =>
    name === undefined || name === ''
      ? []
      : [{ label: name, text: inPlainText(name), kind: CompletionItemKind.Reference, detail, rank: 0 }],
  );

const takeOffsOf = ({ plan }: Known): readonly Suggestion[] =>
  named(
    (plan?.items ?? []).filter(({ kind }) => kind === 'take-off').map(({ id }) => id.value),
    'a take-off place of this plan',
  );

const obstaclesOf = ({ plan, world }: Known): readonly Suggestion[] => {
  const listed = plan?.obstacles?.kind === 'list' ? plan.obstacles.listed.map(({ name }) => name.value) : [];
  const loaded = world === undefined || isMissing(world.obstacles) ? [] : world.obstacles.map(({ name }) => name);
  return named([...listed, ...loaded].slice(0, MOST_ZONES), 'an obstacle of this plan');
};

/** What an aircraft can do by itself, with every place of the route that it could fly to. */
const lostLinkActions = ({ plan }: Known): readonly Suggestion[] => [
  ...fixed(CompletionItemKind.EnumMember, {
    'fly back and land': 'flies straight back to where it took off, and lands',
    'land there': 'lands where it is',
    hold: 'holds its place',
    'carry on': 'carries on with the route',
  }),
  ...named(
    (plan?.items ?? []).filter(({ kind }) => kind === 'point' || kind === 'land').map(({ id }) => `fly to ${id.value}`),
    'flies straight there and lands',
  ).slice(0, MOST_ZONES),
];

const fixed = (kind: CompletionItemKind, words: Readonly<Record<string, string>>): readonly Suggestion[] =>
  Object.entries(words).map(([label, detail]) => ({ label, kind, detail }));

/** Days that a date of a plan is likely to be: today, and that of the flight. */
export const suggestDays = ({ plan, now }: Known): readonly Suggestion[] => {
  const from = plan?.window?.from?.value;
  const offset = from?.offsetMinutes ?? 0;
  const days: [CalendarDate, string][] = [
    [dateAt(now, offset), 'today'],
    ...(from === undefined ? [] : [[dateAt(from.at, offset), 'the day of the flight'] as [CalendarDate, string]]),
  ];
  return days.map(([day, detail]) => ({ label: sayDate(day), kind: CompletionItemKind.Value, detail, rank: 0 }));
};

/** Moments in the plan's offset: now, and the ends of its window. */
export const suggestMoments = (known: Known): readonly Suggestion[] => {
  const { plan, now } = known;
  const window = plan?.window;
  const offsetMinutes = window?.from?.value.offsetMinutes ?? window?.until?.value.offsetMinutes;
  if (offsetMinutes === undefined)
    return suggestDays(known).map(({ label, kind, detail }) => ({
      label: `${label} HH:MM ±HH:MM`,
      kind,
      text: `${label} \${1:HH:MM} \${2:offset from UTC}`,
      isSnippet: true,
      matched: label,
      ...(detail === undefined ? {} : { detail }),
    }));
  const moments: readonly (readonly [string, string])[] = [
    [sayTime({ at: now, offsetMinutes }), 'now'],
    ...(window?.from === undefined ? [] : [[sayTime(window.from.value), 'the window begins'] as const]),
    ...(window?.until === undefined ? [] : [[sayTime(window.until.value), 'the window ends'] as const]),
  ];
  const today = sayDate(dateAt(now, offsetMinutes));
  return [
    ...moments.map(([label, detail]) => ({ label, kind: CompletionItemKind.Value, detail, rank: 0 })),
    {
      label: `${today} … ${sayOffset(offsetMinutes)}`,
      kind: CompletionItemKind.Value,
      text: `${today} \${1:HH:MM} ${sayOffset(offsetMinutes)}`,
      isSnippet: true,
      matched: today,
      detail: 'today, at a time to be filled in',
      rank: 1,
    },
  ];
};

type Source = (known: Known) => readonly Suggestion[];

/** What a preflight statement can cover: first the words for all that is looked at together, then single rules. */
const covered = (): readonly Suggestion[] => [
  ...Object.entries(PREFLIGHT_GROUPS).map(([label, detail]) => ({
    label,
    kind: CompletionItemKind.Value,
    detail,
    rank: 0,
  })),
  ...RULES.filter(({ declarable, declaredWith }) => declarable === true || declaredWith !== undefined).map((rule) =>
    ofRule(rule, 1),
  ),
];
/** Where the words of a text come from, by the keys that lead to it; list positions are left out. */
const SOURCES: ReadonlyMap<string, Source> = new Map<string, Source>([
  ['accepts.rule', acceptable],
  ['off.rule', () => RULES.filter(({ basis }) => basis === 'practice').map((rule) => ofRule(rule, 1))],
  ['preflight.covers', covered],
  ['authorisations.zone', authorised],
  ['authorisations.sections', waivableSections],
  ['authorisations.grid', gridsOf],
  ['authorisations.holder', rolesOf],
  ['by', rolesOf],
  ['requests.for', obstaclesOf],
  ['lost-link.then', lostLinkActions],
  ['land', takeOffsOf],
  ['take-off', takeOffsOf],
  [
    'stands',
    () =>
      fixed(CompletionItemKind.EnumMember, {
        'take-off': 'beside the take-off place',
        'beside pilot': 'of an observer: beside the remote pilot',
      }),
  ],
  [
    'held',
    () =>
      fixed(CompletionItemKind.Value, {
        'remote pilot': 'certificate, 14 CFR 107.12',
        'A1/A3 proof of online training': '(EU) 2019/947 UAS.OPEN.020',
        'A2 certificate of remote pilot competency': '(EU) 2019/947 UAS.OPEN.030',
      }),
  ],
  ['talks-by', () => fixed(CompletionItemKind.Value, { voice: '', radio: '', telephone: '' })],
  [
    'purpose',
    () =>
      fixed(CompletionItemKind.EnumMember, {
        recreation: 'selects the rules for recreational flight; any other text does not',
      }),
  ],
  [
    'country',
    () =>
      fixed(CompletionItemKind.Value, {
        US: 'United States',
        AT: 'Austria',
        DE: 'Germany',
        ES: 'Spain',
        FR: 'France',
        IT: 'Italy',
        NL: 'Netherlands',
        PL: 'Poland',
        CH: 'Switzerland',
        NO: 'Norway',
      }),
  ],
  ['state', () => fixed(CompletionItemKind.Value, { AK: 'Alaska' })],
]);

/** Words for a text field, from the longest tail of its path that is known. */
export const suggestWords = (keys: readonly string[], known: Known): readonly Suggestion[] => {
  for (let i = 0; i < keys.length; i++) {
    const source = SOURCES.get(keys.slice(i).join('.'));
    if (source !== undefined) return source(known);
  }
  return [];
};
