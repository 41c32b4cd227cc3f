import type { FactTools } from '../facts/fact.ts';
import type { Review } from '../review/outcome.ts';
import { CAUTION } from '../review/tell.ts';
import { sayFlight } from '../rulebook/flight-words.ts';
import { breachesOf } from './breaches.ts';
import { pictureOfFlight, pictureOfPlan } from './flight-pictures.ts';
import { type Markup, markup } from './markup.ts';
import { page } from './page.ts';
import { section } from './page-parts.ts';
import { findingsTable, gapsTable, marginsTable, sayStanding } from './report-tables.ts';
import { routeTable } from './route-table.ts';

/** The colours and the face of the editor, whichever theme it has; where there is no editor, of paper. */
const THEME =
  ':root{--paper:var(--vscode-editor-background,#fff);--ink:var(--vscode-editor-foreground,#111);--line:var(--vscode-contrastBorder,color-mix(in srgb,var(--ink) 50%,transparent));--breach:var(--vscode-editorError-foreground,#a3000b);--face:var(--vscode-font-family,sans-serif)}';

/** The one script of the page: where it was scrolled to stays when its text is put in anew. */
const KEEP_PLACE =
  'const editor=acquireVsCodeApi();const place=editor.getState();if(place)scrollTo(0,place.y);addEventListener("scroll",()=>editor.setState({y:scrollY}),{passive:true});';

const MARGINS = 5;

const policyFor = (nonce: string) => ({
  content: `default-src 'none'; style-src 'nonce-${nonce}'; script-src 'nonce-${nonce}'`,
  nonce,
  script: KEEP_PLACE,
});

/** A page with one sentence, where there is no flight to show. `nonce` is a number of the client's for its own policy. */
export const emptyView = (why: string, nonce: string): string =>
  page({ title: 'Flight', style: THEME, policy: policyFor(nonce) }, markup`<main><p>${why}</p></main>\n`).markup;

const links: Markup = markup`<nav aria-label="Parts of this page"><a href="#found">Found</a><a href="#map-of-it">Map</a><a href="#route">Height and route</a><a href="#gaps">Not assessed</a><a href="#margins">Margins</a></nav>\n`;

/** The flight of a plan as a page beside its text: map, heights, and the same facts as tables. */
export const flightView = (review: Review, tools: FactTools, nonce: string): string => {
  const { plan } = review;
  const breaches = breachesOf(review);
  const title = plan.title?.value ?? 'a plan without a title';
  const flights = plan.flights.map((flight) => {
    const name = sayFlight(flight, tools);
    return markup`${plan.flights.length > 1 ? markup`<h3>${name}</h3>` : undefined}${pictureOfFlight(flight, breaches, tools)}${routeTable(flight, name, tools)}`;
  });
  return page(
    { title: `Flight: ${title}`, style: THEME, policy: policyFor(nonce) },
    markup`<header><h1>${title}</h1><p class="standing">${sayStanding(review)}</p><p class="fine">${CAUTION}</p></header>\n`,
    links,
    markup`<main>\n`,
    section('found', 'What was found', findingsTable(breaches)),
    section('map-of-it', 'Map', pictureOfPlan(breaches, tools)),
    section('route', 'Height and route', flights),
    section('gaps', 'What was not assessed', gapsTable(review)),
    section('margins', 'Tightest margins', marginsTable(review, MARGINS)),
    markup`</main>\n`,
  ).markup;
};
