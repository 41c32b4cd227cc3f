import { planDigest } from '../../facts/plan-digest.ts';
import { type Breach, breachesOf } from '../../pictures/breaches.ts';
import { basics, contingency, crewTable, daylight, weatherTable } from '../../pictures/conditions.ts';
import { pictureOfFlight, pictureOfPlan } from '../../pictures/flight-pictures.ts';
import { type Markup, markup, type Part } from '../../pictures/markup.ts';
import { page } from '../../pictures/page.ts';
import { section, table } from '../../pictures/page-parts.ts';
import {
  askingFor,
  dataList,
  findingsTable,
  gapsTable,
  marginsTable,
  matrixTable,
  sayStanding,
  settledTable,
} from '../../pictures/report-tables.ts';
import { routeTable } from '../../pictures/route-table.ts';
import type { Review } from '../../review/outcome.ts';
import { CAUTION } from '../../review/tell.ts';
import { sayFlight } from '../../rulebook/flight-words.ts';
import type { RuleTools } from '../../rulebook/rule.ts';
import { sayTimeAndUtc } from '../../units/calendar.ts';
import type { Contact } from '../contacts.ts';

export interface Briefed {
  readonly path: string;
  readonly version: string;
  readonly review: Review;
  readonly tools: RuleTools;
  /** From a file outside of the repository; none where it was not given. */
  readonly contacts: readonly Contact[];
}

const STYLE = ':root{color-scheme:light;--paper:#fff;--ink:#111;--line:#777;--breach:#a3000b}';

const MARGINS = 20;

const contactsOf = (contacts: readonly Contact[]): Part =>
  contacts.length === 0
    ? undefined
    : section(
        'contacts',
        'Contacts',
        table(
          'Contacts',
          ['Who', 'How to reach them'],
          contacts.map(({ who, how }) => [who, how]),
        ),
      );

const flights = (breaches: readonly Breach[], tools: RuleTools): readonly Markup[] =>
  tools.plan.flights.map((flight) => {
    const name = sayFlight(flight, tools);
    return markup`${tools.plan.flights.length > 1 ? markup`<h3>${name}</h3>` : undefined}${pictureOfFlight(flight, breaches, tools)}${routeTable(flight, name, tools)}`;
  });

/** One page that a crew takes to the field: it needs no script and no network, and prints on A4 and Letter. */
export const briefText = ({ path, version, review, tools, contacts }: Briefed): string => {
  const { plan } = review;
  const breaches = breachesOf(review);
  const title = plan.title?.value ?? path;
  const offsetMinutes = plan.window?.from?.value.offsetMinutes ?? 0;
  const digest = tools.ask(planDigest, plan);
  return page(
    { title: `Brief: ${title}`, style: STYLE },
    markup`<header><h1>${title}</h1>
<p>${path}, judged as of ${sayTimeAndUtc({ at: review.now, offsetMinutes })}${review.past ? ' (a flight that was flown)' : ''}. Digest of what was briefed: <code>${digest}</code></p>
<p class="standing">${sayStanding(review)}</p>
<p>${CAUTION}</p></header>
<main>
`,
    section('basics', 'The flight', basics(tools), crewTable(tools)),
    contactsOf(contacts),
    section('found', 'What was found', findingsTable(breaches)),
    section('map-of-it', 'Map', pictureOfPlan(breaches, tools)),
    section('route', 'Height, route, time and energy', flights(breaches, tools)),
    section('contingency', 'If the link fails or the flight is broken off', contingency(tools)),
    section('weather', 'Weather and daylight', weatherTable(tools), daylight(tools)),
    section('asking', 'What must still be asked for', askingFor(review)),
    section('margins', 'Margins', marginsTable(review, MARGINS)),
    section('settled', 'Accepted and lifted', settledTable(review, breaches)),
    section('gaps', 'What was not assessed', gapsTable(review)),
    section('matrix', 'Compliance', matrixTable(review)),
    section('data', 'Data behind it', dataList(review)),
    markup`</main>
<footer><p class="fine">Made by Waywarden ${version} from ${path}; digest ${digest}. A plan with another digest is another plan.</p></footer>
`,
  ).markup;
};
