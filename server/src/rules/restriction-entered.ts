import { NotAssessed } from '../facts/fact.ts';
import { requireWhole } from '../facts/lacking.ts';
import { flightRestrictions, knownNotices } from '../facts/restrictions.ts';
import { totalLength } from '../geo/interval.ts';
import { type Coverage, coverages, coveringOf } from '../rulebook/authorised.ts';
import { defineRule } from '../rulebook/rule.ts';
import type { RuleSetId } from '../rulebook/rule-set.ts';
import { sayCount, sayDistance } from '../units/say.ts';
import type { Missing } from '../world/world.ts';

const LAW: Readonly<Record<RuleSetId, string>> = {
  'us-part-107': '14 CFR 107.47',
  'us-recreational': '49 U.S.C. 44809(a)(6)',
  'eu-open': '(EU) 2019/947 Art. 15 and UAS.OPEN.060(1)',
  'eu-specific': '(EU) 2019/947 Art. 15 and UAS.SPEC.060(1)',
};

/** So much of a notice's text is shown in the message; all of it stands in the plan. */
const SHOWN = 400;

const sayText = (text: string): string => `"${text.length > SHOWN ? `${text.slice(0, SHOWN)} …` : text}"`;

const sayCoverage = ({ authorisation, mismatch, lacking }: Coverage): string =>
  `authorisation "${authorisation.number?.value ?? 'without a number'}" ${mismatch ?? (lacking === undefined ? 'covers it' : 'could not be compared')}`;

export default defineRule({
  visits: 'flight',
  title: 'the flight enters what a notice restricts',
  question: 'May I fly here?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'Temporary restrictions keep the air free for fire-fighting aircraft, for heads of state, for rockets and for crowds. They are in no map, they appear within hours, and those who fly into them stop the fire-fighting.',
  condition:
    'Each notice of `restrictions` is read in the form of ICAO: the circles, corners and arcs in its text E), without what the text excludes, its limits F) and G), its times B) to D). No leg, area, climb or descent is inside one that is in force in the window. Where the text does not say its limits in a way that can be read, the circle of the line Q), with a mile more for its rounding, holds them: outside of it the notice does not matter, inside it is not assessed. Danger areas and warnings are a caution.',
  exceptions:
    'A notice that another one of the list replaces or cancels does not count. An estimated end (EST) is no end. An authorisation for the number of the notice lifts it inside its own bounds.',
  mend: 'Fly elsewhere or at another time, or get leave from whoever issued it and write it into `authorisations` with the number of the notice as its zone.',
  sources: [
    { cite: '14 CFR 107.47', edition: '2026-01-01', trust: 'secondary copy', for: ['us-part-107'] },
    {
      cite: '49 U.S.C. 44809(a)(6)',
      edition: '2018, with amendments read up to 2026-11-25',
      for: ['us-recreational'],
    },
    { cite: '(EU) 2019/947 Art. 15, UAS.OPEN.060(1)', edition: '2026-10-10', trust: 'from memory', for: ['eu-open'] },
    {
      cite: '(EU) 2019/947 Art. 15, UAS.SPEC.060(1)',
      edition: '2026-10-10',
      trust: 'from memory',
      for: ['eu-specific'],
    },
    { cite: 'ICAO Annex 15, form of notices', edition: 'not dated', trust: 'from memory' },
  ],
  ask: { whom: 'whoever issued the restriction', kind: 'airspace' },
  needs: ['terrain'],
  declarable: true,
  example: {
    faulty:
      'restrictions: { retrieved: 2026-06-13 20:00 -07:00, notices: ["A0412/26 NOTAMN Q) KZSE/QRTCA/IV/BO/W/000/020/4730N12030W001 A) KZSE B) 2606141300 C) 2606142300 E) TEMPORARY RESTRICTED AREA WI 1NM RADIUS OF 473000N1203000W F) SFC G) 2000FT AMSL"] }\n',
    sound:
      'restrictions: { retrieved: 2026-06-13 20:00 -07:00, notices: ["A0412/26 NOTAMN Q) KZSE/QRTCA/IV/BO/W/000/020/4730N12030W001 A) KZSE B) 2606141500 C) 2606142300 E) TEMPORARY RESTRICTED AREA WI 1NM RADIUS OF 473000N1203000W F) SFC G) 2000FT AMSL"] }\n',
  },

  *check(flight, tools) {
    const { ruleSet, plan } = tools;
    if (ruleSet === undefined) throw new NotAssessed('the rule set is not known');
    const notices = tools.ask(knownNotices, plan);
    if (notices.length === 0) return;
    const found = tools.ask(flightRestrictions, flight);
    const lacking: Missing[] = [];
    const open: string[] = [];
    for (const notice of notices) {
      if (notice.unread !== undefined) open.push(`notice "${notice.name}" is not judged: ${notice.unread}`);
    }
    for (const zone of found.zones) {
      const notice = notices.find(({ zones }) => zones.includes(zone.zone));
      const [first, ...more] = zone.visits;
      if (notice === undefined || first === undefined) continue;
      if (notice.bounds !== undefined) {
        open.push(`${first.subject} may enter notice "${notice.name}": ${notice.bounds}`);
        continue;
      }
      if (zone.untold !== undefined) lacking.push(zone.untold);
      const asked = coverages(zone, tools);
      const covering = coveringOf(asked);
      const untold = covering === undefined ? asked.find((one) => one.lacking !== undefined)?.lacking : undefined;
      if (untold !== undefined) {
        lacking.push({
          ...untold,
          missing: `whether an authorisation covers notice "${notice.name}" cannot be told: ${untold.missing}`,
        });
        continue;
      }
      const metres = zone.visits.reduce((sum, { intervals }) => sum + totalLength(intervals ?? []), 0);
      const stretch = metres > 0 ? ` for ${sayDistance(metres)}` : '';
      const others = more.length > 0 ? ` (with ${sayCount(more.length, 'more place')})` : '';
      const held = asked.length === 0 ? '' : `, and ${asked.map(sayCoverage).join('; ')}`;
      const isDanger = zone.zone.kind === 'danger';
      yield {
        found: {
          at: first.written,
          ...(isDanger ? { level: 'caution' as const } : {}),
          subject: `notice ${notice.name}`,
          message: `${first.subject} enters notice "${notice.name}"${stretch}${others}, which says ${sayText(zone.zone.text ?? '')}${held}; ${isDanger ? 'whoever flies there has to know what goes on' : `${LAW[ruleSet]} requires leave of whoever issued it`}`,
          place: { at: first.at, ...(first.intervals?.[0] === undefined ? {} : { alongM: first.intervals[0].from }) },
          ...(first.intervals === undefined
            ? {}
            : { intervals: first.intervals.map(({ from, to }) => ({ fromAlongM: from, toAlongM: to })) }),
          related: [
            { at: notice.written, message: 'the notice' },
            ...more.map((visit) => ({ at: visit.written, message: `${visit.subject} is inside it, too` })),
            ...asked.map((one) => ({ at: one.authorisation.span, message: sayCoverage(one) })),
          ],
          ...(covering === undefined
            ? {}
            : {
                liftedBy: { kind: 'authorisation' as const, name: covering.number?.value ?? '', span: covering.span },
              }),
        },
      };
    }
    lacking.push(...found.lacking);
    // All that was not understood is quoted, in one gap.
    if (open.length > 0) throw new NotAssessed([...open, ...lacking.map(({ missing }) => missing)].join('; '));
    requireWhole({ lacking });
  },
});
