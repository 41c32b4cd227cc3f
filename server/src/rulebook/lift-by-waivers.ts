import { shapeOfOutline } from '../facts/area-shape.ts';
import type { FactTools } from '../facts/fact.ts';
import { flownItems, flownLegs } from '../facts/flown-legs.ts';
import { itemPlace } from '../facts/item-place.ts';
import { orLacking } from '../facts/lacking.ts';
import { stretchesOfLeg } from '../facts/leg-beyond.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import { routePlaceOf } from '../facts/route-order.ts';
import { itemVisit, legVisit, type ZoneVisit } from '../facts/zone-visits.ts';
import type { Box } from '../geo/box.ts';
import type { Shape } from '../geo/shape.ts';
import type { Authorisation, Flight, Item, Leg } from '../plan/model.ts';
import { exceeds } from '../units/exceeds.ts';
import { aboveGround, degrees } from '../units/frames.ts';
import { sayMetresAgainst, sayNumber } from '../units/say.ts';
import { isMissing } from '../world/world.ts';
import { names } from './authorisation-terms.ts';
import type { Complaint, FlownPart, Lift } from './finding.ts';
import type { Rule } from './rule.ts';
import { boundingZone, type WaiverOf, waiversOf } from './waived.ts';
import { bareSection } from './waiver-sections.ts';

const ofFlight = (flight: Flight, tools: FactTools): readonly FlownPart[] => [
  ...tools.ask(flownLegs, flight).map((leg) => ({ leg })),
  ...tools.ask(flownItems, flight).map((item) => ({ item })),
];

/** What an item that is too high answers for: itself, and the legs beside it as far as they are too high there. */
const withLegsBeside = (item: Item, { measured, limit }: Complaint, tools: FactTools): readonly FlownPart[] => {
  if (measured?.frame !== 'above ground' || limit === undefined) return [{ item }];
  const { arriving, leaving } = routePlaceOf(item, tools);
  const beside = [arriving, leaving].flatMap((leg): readonly FlownPart[] => {
    if (leg === undefined) return [];
    const on = stretchesOfLeg(leg, aboveGround(limit.value), 'over', tools, () => false);
    return on.length === 0 ? [] : [{ leg, on }];
  });
  return [{ item }, ...beside];
};

/** Everything that a complaint speaks of: a part of the route where its rule looks at parts, else all that is flown. */
const partsOf = (looked: object, complaint: Complaint, rule: Rule, tools: FactTools): readonly FlownPart[] => {
  if (complaint.parts !== undefined) return complaint.parts;
  if (rule.visits === 'flight') return ofFlight(looked as Flight, tools);
  if (rule.visits === 'item') return withLegsBeside(looked as Item, complaint, tools);
  if (rule.visits !== 'leg') return tools.plan.flights.flatMap((flight) => ofFlight(flight, tools));
  const leg = looked as Leg;
  const on = complaint.intervals?.map(({ fromAlongM, toAlongM }) => ({ from: fromAlongM, to: toAlongM }));
  return [on === undefined ? { leg } : { leg, on }];
};

const visitOf = (part: FlownPart, tools: FactTools): ZoneVisit => {
  if ('item' in part) return itemVisit(part.item, undefined, tools.ask(itemPlace, part.item), tools);
  const path = tools.ask(pathOfLeg, part.leg);
  return legVisit(part.leg, part.on ?? [{ from: 0, to: path.length }], path.at(0), tools);
};

/** Why what was found lies outside an area. */
const outside = (
  where: string,
  area: Shape,
  visits: () => readonly ZoneVisit[],
  { besideRoute }: Rule,
): string | undefined => {
  if (besideRoute === true) return `holds in ${where} only, and whether the way back stays in it is not worked out`;
  const out = visits().find((visit) => visit.outside(area) !== undefined);
  return out === undefined ? undefined : `holds in ${where} only, and ${out.subject} leaves that`;
};

const areaMismatch = (paper: Authorisation, visits: () => readonly ZoneVisit[], rule: Rule): string | undefined => {
  if (paper.areaSpan === undefined) return undefined;
  if (paper.area === undefined) return 'has an area that could not be read';
  return outside('its own area', shapeOfOutline(paper.area), visits, rule);
};

const EVERYWHERE: Box = { west: degrees(-180), south: degrees(-90), east: degrees(180), north: degrees(90) };

const zoneMismatch = (
  paper: Authorisation,
  visits: () => readonly ZoneVisit[],
  rule: Rule,
  { world }: FactTools,
): string | undefined => {
  const name = boundingZone(paper);
  if (name === undefined) return undefined;
  const zones = isMissing(world.airspace) ? [] : world.airspace.zonesIn(EVERYWHERE);
  const zone = zones.find((one) => names(one, name));
  return zone === undefined
    ? `holds in zone "${name}" only, which the airspace of this plan does not have`
    : outside(`zone "${name}"`, zone.shape, visits, rule);
};

/** Why what was found is higher than a waiver lets it be. One of the height limit has to say how high. */
const heightMismatch = (
  { upTo }: Authorisation,
  section: string,
  complaint: Complaint,
  visits: () => readonly ZoneVisit[],
  rule: Rule,
): string | undefined => {
  const isOfHeight = section === '107.51(b)';
  if (upTo === undefined) return isOfHeight ? 'does not say up to which height it holds' : undefined;
  const most = `holds up to ${sayNumber(upTo.number, 4)} ${upTo.unit} ${upTo.datum}`;
  const height = upTo.value;
  const { measured } = complaint;
  if (rule.besideRoute === true) {
    if (measured?.frame !== 'above ground' || !('aboveGround' in height))
      return `${most}, and how high the way back is under it is not worked out`;
    const reached = aboveGround(measured.value);
    return exceeds(reached, height.aboveGround)
      ? `${most}, and the way back reaches ${sayMetresAgainst(reached, height.aboveGround)} above ground`
      : undefined;
  }
  if ('aboveGround' in height) {
    for (const visit of visits()) {
      const reached = visit.greatestAboveGround();
      if (exceeds(reached, height.aboveGround))
        return `${most}, and ${visit.subject} reaches ${sayMetresAgainst(reached, height.aboveGround)} above ground`;
    }
    return undefined;
  }
  if (!('aboveSea' in height))
    return `gives its height as "${most.slice('holds up to '.length)}"; it needs AGL or AMSL`;
  for (const visit of visits()) {
    const reached = visit.greatestAboveSea();
    if (exceeds(reached, height.aboveSea))
      return `${most}, and ${visit.subject} reaches ${sayMetresAgainst(reached, height.aboveSea)} above mean sea level`;
  }
  return undefined;
};

/** Everything that keeps a waiver from lifting one complaint; undefined where nothing does. */
const mismatchAt = (
  { waiver, mismatch }: WaiverOf,
  section: string,
  looked: object,
  complaint: Complaint,
  rule: Rule,
  tools: FactTools,
): string | undefined => {
  let known: readonly ZoneVisit[] | undefined;
  const visits = (): readonly ZoneVisit[] => {
    known ??= partsOf(looked, complaint, rule, tools).map((part) => visitOf(part, tools));
    return known;
  };
  const bounds = orLacking(() =>
    [
      areaMismatch(waiver, visits, rule),
      zoneMismatch(waiver, visits, rule, tools),
      heightMismatch(waiver, section, complaint, visits, rule),
    ].flatMap((one) => one ?? []),
  );
  const found = [
    ...(mismatch === undefined ? [] : [mismatch]),
    ...('missing' in bounds ? [`cannot be compared with the flight: ${bounds.missing}`] : bounds.known),
  ];
  return found.length === 0 ? undefined : found.join('; it ');
};

interface Answer {
  readonly by?: Authorisation;
  /** Why the waivers that name the section do not lift it. */
  readonly why: readonly string[];
}

const nameOf = ({ number }: Authorisation): string => number?.value ?? 'without a number';

/**
 * What becomes of a complaint under the waivers of the plan: lifted, or with the bound that each of them breaks in its
 * message. A limit of the house is none that an authority waives. Never throws `NotAssessed`: what cannot be told lifts
 * nothing.
 */
export const liftByWaivers = (complaint: Complaint, rule: Rule, looked: object, tools: FactTools): Complaint => {
  if (rule.waivable === undefined || complaint.liftedBy !== undefined || tools.ruleSet !== 'us-part-107')
    return complaint;
  if (complaint.limit?.setBy.startsWith('the house') === true) return complaint;
  const { plan } = tools;
  const answer = (section: string): Answer => {
    const asked = waiversOf(plan, section).map((one) => ({
      paper: one.waiver,
      mismatch: mismatchAt(one, section, looked, complaint, rule, tools),
    }));
    const by = asked.find(({ mismatch }) => mismatch === undefined)?.paper;
    if (by !== undefined) return { by, why: [] };
    return { why: asked.map(({ paper, mismatch }) => `waiver "${nameOf(paper)}" ${mismatch}`) };
  };
  const anyOf = rule.waivable.map(bareSection);
  const answers = (complaint.sections ?? anyOf).map(answer);
  const papers = answers.flatMap(({ by }) => by ?? []);
  const lift = complaint.sections === undefined ? papers.slice(0, 1) : papers.length < answers.length ? [] : papers;
  const [first] = lift;
  if (first !== undefined) {
    const byName = [...new Set(lift.map(nameOf))].join(' and ');
    const liftedBy: Lift = { kind: 'waiver', name: byName, span: first.span };
    return { ...complaint, liftedBy };
  }
  const why = [...new Set(answers.flatMap((one) => one.why))];
  return why.length === 0 ? complaint : { ...complaint, message: `${complaint.message}; ${why.join('; ')}` };
};
