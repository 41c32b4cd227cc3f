import { shapeOfOutline } from '../facts/area-shape.ts';
import { courseOfVisit } from '../facts/contingency-zones.ts';
import { type CourseVolume, courseVolume } from '../facts/course-volume.ts';
import type { FactTools } from '../facts/fact.ts';
import { greatestHeight } from '../facts/height-near-people.ts';
import { orLacking } from '../facts/lacking.ts';
import { flightCourses } from '../facts/people-passes.ts';
import { roomInArea, roomInAreaOfZone } from '../facts/room-in-area.ts';
import { flightZones, type ZoneVisit, type ZoneVisits } from '../facts/zone-visits.ts';
import type { Authorisation, Flight } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import { exceeds, fallsShortOf } from '../units/exceeds.ts';
import { aboveGround, type Metres, type MetresAboveGround } from '../units/frames.ts';
import { sayCount, sayMetresAgainst, sayNumber } from '../units/say.ts';
import type { Missing } from '../world/world.ts';
import { names } from './authorisation-terms.ts';
import type { Complaint } from './finding.ts';
import { sayPaper } from './operation-paper.ts';
import { sayParts, saySideways, VOLUME_GUIDANCE } from './say-volume.ts';

interface Tight {
  readonly subject: string;
  readonly written: Span;
  readonly room: Metres;
  readonly volume: CourseVolume;
}

export interface VolumeVerdict {
  readonly complaints: readonly Complaint[];
  readonly lacking: readonly Missing[];
}

const complaintOf = (authorisation: Authorisation, tight: readonly Tight[]): readonly Complaint[] => {
  const [first, ...rest] = tight;
  if (first === undefined) return [];
  const worst = rest.reduce(
    (one, other) => (other.room - other.volume.beside < one.room - one.volume.beside ? other : one),
    first,
  );
  const others = tight.filter((one) => one !== worst);
  const { subject, written, room, volume } = worst;
  const more = others.length > 0 ? ` (with ${sayCount(others.length, 'more place')})` : '';
  const name = sayPaper(authorisation);
  const stays =
    room > 0
      ? `${subject} comes within ${sayMetresAgainst(room, volume.beside)} of the edge of what ${name} covers`
      : `${subject} leaves the area that ${name} covers`;
  return [
    {
      at: written,
      subject: name,
      message: `${stays}, and its contingency volume reaches ${saySideways(volume, room)} by ${VOLUME_GUIDANCE}${more}`,
      measured: { value: room, unit: 'm', frame: 'over ground' },
      limit: { value: volume.beside, unit: 'm', frame: 'over ground', setBy: VOLUME_GUIDANCE },
      related: [
        { at: authorisation.span, message: 'the authorisation' },
        { at: written, message: sayParts(volume) },
        ...others.map((one) => ({ at: one.written, message: `the volume of ${one.subject} leaves it, too` })),
      ],
    },
  ];
};

/** The operational volume of the whole flight against the area of a paper for the operation. */
export const volumeInOperationArea = (paper: Authorisation, flight: Flight, tools: FactTools): VolumeVerdict => {
  const { area } = paper;
  if (paper.areaSpan === undefined) return { complaints: [], lacking: [] };
  if (area === undefined)
    return { complaints: [], lacking: [{ missing: `the area of ${sayPaper(paper)} could not be read` }] };
  const { courses, lacking: unplaced } = tools.ask(flightCourses, flight);
  const lacking: Missing[] = [...unplaced];
  const tight: Tight[] = [];
  for (const course of courses) {
    const judged = orLacking(() => ({ room: roomInArea(course, area, tools), volume: courseVolume(course, tools) }));
    if ('missing' in judged) lacking.push(judged);
    else if (fallsShortOf(judged.known.room, judged.known.volume.beside)) {
      tight.push({ subject: course.subject, written: course.written, ...judged.known });
    }
  }
  return { complaints: complaintOf(paper, tight), lacking };
};

/** The upper end of the contingency volume against the height of a paper. What is flown too high is another rule's matter. */
export const volumeUnderOperationHeight = (paper: Authorisation, flight: Flight, tools: FactTools): VolumeVerdict => {
  const height = paper.upTo?.value;
  // Without a height above ground the rules about the height limit say so.
  if (height === undefined || !('aboveGround' in height)) return { complaints: [], lacking: [] };
  const { courses } = tools.ask(flightCourses, flight);
  const lacking: Missing[] = [];
  let worst:
    | {
        readonly subject: string;
        readonly at: Span;
        readonly top: MetresAboveGround;
        readonly flown: number;
        readonly volume: CourseVolume;
      }
    | undefined;
  for (const course of courses) {
    const judged = orLacking(() => ({ flown: greatestHeight(course, tools), volume: courseVolume(course, tools) }));
    if ('missing' in judged) {
      lacking.push(judged);
      continue;
    }
    const { flown, volume } = judged.known;
    const top = aboveGround(flown + volume.above);
    if (exceeds(flown, height.aboveGround) || !exceeds(top, height.aboveGround)) continue;
    if (worst === undefined || top > worst.top + 1e-6)
      worst = { subject: course.subject, at: course.written, top, flown, volume };
  }
  if (worst === undefined) return { complaints: [], lacking };
  const name = sayPaper(paper);
  const measured = { value: worst.top, unit: 'm', frame: 'above ground' } as const;
  return {
    complaints: [
      {
        at: worst.at,
        subject: `the height of ${name}`,
        message: `the contingency volume of ${worst.subject}, flown at ${sayNumber(worst.flown)} m above ground, reaches ${sayMetresAgainst(worst.top, height.aboveGround)} above ground; ${name} allows at most ${sayNumber(height.aboveGround, 2)} m for the operational volume`,
        measured,
        limit: { value: height.aboveGround, unit: 'm', frame: 'above ground', setBy: name },
        related: [
          { at: paper.upTo?.span ?? paper.span, message: 'the height stands here' },
          { at: worst.at, message: sayParts(worst.volume) },
        ],
      },
    ],
    lacking,
  };
};

const tightIn = (
  visit: ZoneVisit,
  { zone }: ZoneVisits,
  authorisation: Authorisation,
  tools: FactTools,
): Tight | undefined => {
  const { area } = authorisation;
  // What leaves the area itself is told where the zone is entered without an authorisation.
  if (area === undefined || visit.outside(shapeOfOutline(area)) !== undefined) return undefined;
  const course = courseOfVisit(visit);
  const volume = courseVolume(course, tools);
  const room = roomInAreaOfZone(course, area, zone.shape, tools);
  return fallsShortOf(room, volume.beside)
    ? { subject: visit.subject, written: visit.written, room, volume }
    : undefined;
};

/** The contingency volume inside zones against the areas of the authorisations for them that are asked for. */
export const volumesInZoneAreas = (
  flight: Flight,
  counts: (authorisation: Authorisation) => boolean,
  tools: FactTools,
): VolumeVerdict => {
  const asked = tools.plan.authorisations.filter(
    (one) => one.zone !== undefined && one.kind === undefined && one.areaSpan !== undefined && counts(one),
  );
  if (asked.length === 0) return { complaints: [], lacking: [] };
  const found = tools.ask(flightZones, flight);
  const lacking: Missing[] = [...found.lacking];
  const complaints: Complaint[] = [];
  for (const authorisation of asked) {
    const tight: Tight[] = [];
    for (const visits of found.zones) {
      if (!names(visits.zone, authorisation.zone?.value ?? '')) continue;
      for (const visit of visits.visits) {
        const judged = orLacking(() => tightIn(visit, visits, authorisation, tools));
        if ('missing' in judged) lacking.push(judged);
        else if (judged.known !== undefined) tight.push(judged.known);
      }
    }
    complaints.push(...complaintOf(authorisation, tight));
  }
  return { complaints, lacking };
};
