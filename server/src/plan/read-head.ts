import {
  amountOf,
  dateOf,
  elevationOf,
  heightOf,
  lostLinkActionOf,
  positionIn,
  positionOf,
  present,
  type Section,
  sectionOf,
  textOf,
  textsOf,
  timeOf,
  wordOf,
} from './fields.ts';
import type { LostLink, Permission, Plan, Site, SitePlace, Window } from './model.ts';
import { readCrew } from './read-crew.ts';
import { readGroundRisk } from './read-ground-risk.ts';
import { readPeople } from './read-people.ts';
import { readAirspace, readFiles, readTerrain } from './read-references.ts';
import { readAccepts, readAuthorisations, readObstacles, readPreflight, readRestrictions } from './read-statements.ts';
import { readWeather } from './read-weather.ts';

/** All of a plan that stands outside its route. */
export type Head = Omit<
  Plan,
  'document' | 'items' | 'flights' | 'slips' | 'unread' | 'titleSpan' | 'routeSpan' | 'headEnd' | 'headEntry' | 'eol'
>;

export const readHead = (root: Section | undefined): Head =>
  present<Head>({
    title: textOf(root, 'title'),
    purpose: textOf(root, 'purpose'),
    propertyForHire: wordOf(root, 'property-for-hire', ['yes', 'no']),
    country: textOf(root, 'country'),
    state: textOf(root, 'state'),
    category: wordOf(root, 'category', [
      'A1',
      'A2',
      'A3',
      'specific',
      'category 1',
      'category 2',
      'category 3',
      'category 4',
    ]),
    window: readWindow(sectionOf(root, 'window')),
    flown: dateOf(root, 'flown'),
    aircraft: textOf(root, 'aircraft'),
    site: readSite(sectionOf(root, 'site')),
    crew: readCrew(sectionOf(root, 'crew')),
    terrain: readTerrain(root),
    geoid: textOf(root, 'geoid'),
    airspace: readAirspace(root),
    obstacles: readObstacles(sectionOf(root, 'obstacles')),
    runways: readFiles(root, 'runways'),
    alongside: textsOf(root, 'alongside'),
    people: readPeople(sectionOf(root, 'people')),
    weather: readWeather(sectionOf(root, 'weather')),
    preflight: readPreflight(root),
    restrictions: readRestrictions(sectionOf(root, 'restrictions')),
    authorisations: readAuthorisations(root),
    groundRisk: readGroundRisk(sectionOf(root, 'ground-risk')),
    reserve: amountOf(root, 'reserve', 'share'),
    accepts: readAccepts(root),
    lostLink: readLostLink(sectionOf(root, 'lost-link')),
  });

export const readWindow = (section: Section | undefined): Window | undefined =>
  section &&
  present<Window>({ span: section.node.span, from: timeOf(section, 'from'), until: timeOf(section, 'until') });

const readSite = (section: Section | undefined): Site => {
  const takeOff = sectionOf(section, 'take-off');
  const permission = sectionOf(section, 'permission');
  return present<Site>({
    span: section?.node.span,
    takeOff:
      takeOff &&
      present<SitePlace>({
        span: takeOff.node.span,
        at: positionIn(takeOff),
        elevation: elevationOf(takeOff, 'elevation'),
      }),
    permission:
      permission &&
      present<Permission>({
        span: permission.node.span,
        of: textOf(permission, 'of'),
        given: dateOf(permission, 'given'),
      }),
  });
};

const readLostLink = (section: Section | undefined): LostLink | undefined => {
  if (section === undefined) return undefined;
  const then = lostLinkActionOf(section, 'then');
  return present<LostLink>({
    span: section.node.span,
    after: amountOf(section, 'after', 'time'),
    climbTo: heightOf(section, 'climb-to'),
    action: then && { value: then.action, span: then.span },
    to: then?.to === undefined ? undefined : { value: then.to, span: then.span },
    at: positionOf(section, 'at'),
  });
};
