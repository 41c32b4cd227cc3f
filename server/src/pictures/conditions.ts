import { cloudBases } from '../facts/cloud-bases.ts';
import type { FactTools } from '../facts/fact.ts';
import { itemPlace } from '../facts/item-place.ts';
import { orLacking } from '../facts/lacking.ts';
import { withoutSecret } from '../facts/operator-number.ts';
import { reservePolicy } from '../facts/reserve-policy.ts';
import { takeOffElevation } from '../facts/take-off-elevation.ts';
import { turningBack } from '../facts/turning-back.ts';
import { watchersOf } from '../facts/watchers.ts';
import {
  type InWindow,
  qnhInWindow,
  temperatureInWindow,
  visibilityInWindow,
  windInWindow,
  windowOf,
} from '../facts/weather-in-window.ts';
import { CIVIL_TWILIGHT_ALTITUDE, SUNRISE_ALTITUDE, sunCrossings } from '../geo/sun.ts';
import type { CrewMember, Flight, Plan } from '../plan/model.ts';
import { sayFlight, sayTurning } from '../rulebook/flight-words.ts';
import { RULE_SETS } from '../rulebook/rule-set.ts';
import { sayMeasure } from '../rulebook/say-measure.ts';
import { dateAt, endOfDay, sayDate, sayTime, sayTimeAndUtc, startOfDay } from '../units/calendar.ts';
import type { Degrees } from '../units/frames.ts';
import { sayHeight, sayNumber, sayPosition } from '../units/say.ts';
import { isMissing } from '../world/world.ts';
import { type Markup, markup, type Part } from './markup.ts';
import { bullets, lines, table, terms } from './page-parts.ts';
import { sayClock, sayShare } from './say-route.ts';

type Amount = { readonly number: number; readonly unit: string };
const amount = (given: Amount | undefined): string | undefined =>
  given === undefined ? undefined : `${sayNumber(given.number, 3)} ${given.unit}`;

const known = (derive: () => Part): Part => {
  const answer = orLacking(derive);
  return 'known' in answer ? answer.known : `not assessed: ${answer.missing}`;
};

const sayWindow = ({ window }: Plan): Part =>
  window === undefined
    ? 'not stated'
    : lines(
        window.from && `from ${sayTimeAndUtc(window.from.value)}`,
        window.until && `until ${sayTimeAndUtc(window.until.value)}`,
      );

const sayAircraft = ({ plan, world }: FactTools): Part => {
  const { aircraft } = world;
  if (plan.aircraft === undefined) return 'not stated';
  if (isMissing(aircraft)) return lines(plan.aircraft.value, `not assessed: ${aircraft.missing}`);
  const { name, kind, mass, size, registration, remoteId } = aircraft;
  return lines(
    [name?.value ?? plan.aircraft.value, kind?.value, amount(mass), amount(size) && `largest dimension ${amount(size)}`]
      .filter((part) => part !== undefined)
      .join(', '),
    registration?.number &&
      `registration ${withoutSecret(registration.number.value)}${registration.expires === undefined ? '' : `, until ${sayDate(registration.expires.value)}`}`,
    remoteId?.means && `remote identification: ${remoteId.means.value}`,
  );
};

const sayStands = ({ stands }: CrewMember): string => {
  if (stands === undefined) return 'not stated';
  return typeof stands.value === 'string' ? stands.value : sayPosition(stands.value);
};

/** Everybody by role; a plan holds no names of people. */
export const crewTable = (tools: FactTools): Markup => {
  const { crew, items } = tools.plan;
  const members = [...(crew.pilot === undefined ? [] : [crew.pilot]), ...crew.observers];
  const [first] = items;
  const watchers = first === undefined ? undefined : orLacking(() => tools.ask(watchersOf, first).watchers);
  const rows = members.map((member) => {
    const watcher =
      watchers !== undefined && 'known' in watchers ? watchers.known.find((one) => one.member === member) : undefined;
    const stands = sayStands(member);
    return [
      `${member.role} ${member.name?.value ?? ''}`.trim(),
      lines(stands, watcher && sayPosition(watcher.at) !== stands ? sayPosition(watcher.at) : undefined),
      [
        member.held?.value,
        member.tested && `tested ${sayDate(member.tested.value)}`,
        member.seenBy && `seen by ${member.seenBy.value}`,
      ]
        .filter((part) => part !== undefined)
        .join(', '),
      [member.watches?.value, member.talksBy && `talks by ${member.talksBy.value}`]
        .filter((part) => part !== undefined)
        .join(', '),
    ];
  });
  return members.length === 0
    ? markup`<p>The plan names no crew.</p>\n`
    : table('Crew', ['Role', 'Stands', 'Papers', 'Watches'], rows);
};

/** What the flight is, when and where, with what. */
export const basics = (tools: FactTools): Markup => {
  const { plan, ruleSet } = tools;
  const { site, flights } = plan;
  const first = flights[0]?.first;
  return terms([
    ['Purpose', plan.purpose?.value ?? 'not stated'],
    ['Window', sayWindow(plan)],
    [
      'Take-off place',
      first &&
        known(() =>
          lines(
            `${first.id.value}: ${sayPosition(tools.ask(itemPlace, first))}`,
            `elevation ${sayMeasure({ value: tools.ask(takeOffElevation, first).value, unit: 'm' })}`,
          ),
        ),
    ],
    ['Aircraft', sayAircraft(tools)],
    [
      'Ground owner',
      site.permission &&
        `${site.permission.of?.value ?? ''}${site.permission.given === undefined ? '' : `, given ${sayDate(site.permission.given.value)}`}`,
    ],
    [
      'Judged by',
      ruleSet === undefined
        ? 'the rule set is not known'
        : `the rules for ${RULE_SETS[ruleSet].name}, read up to ${RULE_SETS[ruleSet].edition}`,
    ],
    ['Category', plan.category?.value],
    [
      'Papers for the airspace',
      plan.authorisations.length === 0
        ? undefined
        : lines(
            ...plan.authorisations.map((paper) =>
              [
                paper.number?.value,
                paper.zone?.value,
                paper.upTo && `up to ${sayHeight(paper.upTo.value)}`,
                ...paper.conditions.map(({ value }) => value),
              ]
                .filter((part) => part !== undefined)
                .join(', '),
            ),
          ),
    ],
  ]);
};

const stated = <T>(
  name: string,
  derive: () => InWindow<T>,
  say: (value: T) => string,
): readonly (readonly Part[])[] => {
  const answer = orLacking(derive);
  if (!('known' in answer)) return [[name, `not assessed: ${answer.missing}`, '']];
  const { values, lacking } = answer.known;
  return [
    ...values.map(({ value, by }): readonly Part[] => [name, say(value), by]),
    ...lacking.map(({ missing }): readonly Part[] => [name, `not assessed: ${missing}`, '']),
  ];
};

const speed = (value: number): string => sayMeasure({ value, unit: 'm/s' });

/** The weather of the window, each value with who says it. */
export const weatherTable = (tools: FactTools): Markup => {
  const { plan } = tools;
  const [flight] = plan.flights;
  const { cloudBase } = plan.weather;
  const rows = [
    ...stated(
      'Wind',
      () => tools.ask(windInWindow, plan),
      (wind) =>
        [
          wind.from === undefined ? undefined : `from ${sayNumber(wind.from, 0)}° true`,
          speed(wind.speed),
          wind.gust === undefined ? undefined : `gusts ${speed(wind.gust)}`,
        ]
          .filter((part) => part !== undefined)
          .join(', '),
    ),
    ...stated(
      'Visibility',
      () => tools.ask(visibilityInWindow, plan),
      ({ least }) => `at least ${sayMeasure({ value: least, unit: 'm' })}`,
    ),
    ...(cloudBase?.value === 'none'
      ? [['Cloud base', 'none', 'this plan']]
      : flight === undefined
        ? []
        : stated(
            'Cloud base',
            () => {
              const { bases, lacking } = tools.ask(cloudBases, flight);
              return { values: bases, lacking };
            },
            ({ kind, base }) =>
              `${kind === 'cloud' ? '' : 'none below '}${sayMeasure({ value: base, unit: 'm', frame: 'above sea' })}`,
          )),
    ...stated(
      'Temperature',
      () => tools.ask(temperatureInWindow, plan),
      (value) => sayMeasure({ value, unit: 'C' }),
    ),
    ...stated(
      'QNH',
      () => tools.ask(qnhInWindow, plan),
      (value) => `${sayNumber(value / 100)} hPa`,
    ),
  ];
  return table('Weather in the window', ['What', 'Value', 'By'], rows);
};

const crossings = (altitude: Degrees, names: readonly [string, string], tools: FactTools): readonly string[] => {
  const { plan } = tools;
  const [first] = plan.items;
  const from = plan.window?.from?.value;
  if (first === undefined || from === undefined) return [];
  const at = tools.ask(itemPlace, first);
  const { offsetMinutes } = from;
  const day = dateAt(from.at, offsetMinutes);
  const found = [...sunCrossings(at, altitude, startOfDay(day, offsetMinutes), endOfDay(day, offsetMinutes))];
  return found.map(
    ({ at: time, direction }) =>
      `${names[direction === 'up' ? 0 : 1]} ${sayTime({ at: time, offsetMinutes }).slice(11, 16)}`,
  );
};

/** Sunrise, sunset and civil twilight of the day at the first place of the route. */
export const daylight = (tools: FactTools): Markup => {
  const found = orLacking(() => {
    windowOf(tools.plan);
    return [
      ...crossings(CIVIL_TWILIGHT_ALTITUDE, ['morning civil twilight begins', 'evening civil twilight ends'], tools),
      ...crossings(SUNRISE_ALTITUDE, ['sunrise', 'sunset'], tools),
    ];
  });
  if (!('known' in found)) return markup`<p>Daylight not assessed: ${found.missing}</p>\n`;
  const said = found.known.length === 0 ? 'the sun neither rises nor sets on that day' : found.known.join('; ');
  return markup`<p>Daylight at the first place, by the clock of the window: ${said}.</p>\n`;
};

const sayNoReturn = (flight: Flight, tools: FactTools): Part =>
  known(() => {
    const { noReturn, tightestHome } = tools.ask(turningBack, flight);
    if (noReturn !== undefined) {
      const when =
        noReturn.time === undefined
          ? ''
          : `, ${sayClock(noReturn.time.earliest, tools)} to ${sayClock(noReturn.time.latest, tools)}`;
      return `point of no return on ${sayTurning(noReturn)}, at ${sayPosition(noReturn.at)}${when}: from there on home is out of reach`;
    }
    if (tightestHome === undefined) return 'no place was found from which to turn back';
    return `home can be reached from everywhere that was assessed; tightest on ${sayTurning(tightestHome)}: ${sayShare(tightestHome.left)} left, the way home takes ${sayShare(tightestHome.way.energy)}`;
  });

/** What happens when the link fails or the flight is broken off. */
export const contingency = (tools: FactTools): Markup => {
  const { lostLink, flights, preflight } = tools.plan;
  const climb = lostLink?.climbTo;
  const link =
    lostLink === undefined
      ? 'the plan says nothing about a lost link'
      : [
          lostLink.after && `after ${amount(lostLink.after)}`,
          climb && `climbs to ${sayHeight(climb.value)}, or stays higher`,
          lostLink.action &&
            `then: ${lostLink.action.value}${lostLink.to === undefined ? '' : ` ${lostLink.to.value}`}${lostLink.at === undefined ? '' : ` (${sayPosition(lostLink.at.value)})`}`,
        ]
          .filter((part) => part !== undefined)
          .join('; ');
  return markup`${terms([
    ['Lost link', link],
    ...flights.map((flight): readonly [string, Part] => [
      flights.length > 1 ? `Turning back, ${sayFlight(flight, tools)}` : 'Turning back',
      sayNoReturn(flight, tools),
    ]),
    [
      'Reserve',
      known(() => {
        const reserve = tools.ask(reservePolicy, tools.plan);
        const house = tools.settings.limits.reserve;
        return lines(
          reserve && `${sayShare(reserve.value)} of the usable energy at landing, set by ${reserve.setBy}`,
          house && `${amount(house.value)} set by the house`,
        );
      }),
    ],
  ])}${
    preflight.length === 0
      ? undefined
      : bullets(
          preflight.map(
            ({ by, seen, covers }) =>
              `Stated before the flight${by === undefined ? '' : ` by ${by.value}`}${seen === undefined ? '' : `, ${'date' in seen.value ? sayDate(seen.value.date) : sayTime(seen.value.time)}`}: ${covers.map(({ value }) => value).join(', ')}`,
          ),
        )
  }`;
};
