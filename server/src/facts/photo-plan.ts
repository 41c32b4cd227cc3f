import { innerPoint } from '../geo/inner-point.ts';
import { distanceForOverlap, footprintOf, samplingDistance } from '../geo/photo.ts';
import type { Camera } from '../plan/camera.ts';
import type { Item } from '../plan/model.ts';
import type { CorridorText, SurveyText } from '../plan/pattern.ts';
import type { Span } from '../text/span.ts';
import {
  type LonLat,
  type Metres,
  type MetresAboveGround,
  type MetresAboveSea,
  metres,
  onTakeOff,
  overGround,
} from '../units/frames.ts';
import { isMissing } from '../world/world.ts';
import { aircraftOfPlan } from './aircraft-of-plan.ts';
import { ringOfOutline } from './area-shape.ts';
import { defineFact, type FactTools, given, NotAssessed } from './fact.ts';
import { groundAtPlace } from './ground-at-place.ts';
import { fromEllipsoid } from './sea-level.ts';
import { takeOffElevation } from './take-off-elevation.ts';

/** The numbers of a camera that photos are worked out from, in metres. */
export interface CameraNumbers {
  readonly sensorAcross: Metres;
  readonly sensorAlong: Metres;
  readonly focalLength: Metres;
  /** The larger distance from pixel to pixel on the sensor; absent where the pixels are not known. */
  readonly pitch?: number;
  readonly camera: Camera;
}

/** The camera of a pattern: its own, else the aircraft's. */
export const patternCamera = defineFact({
  name: 'pattern-camera',
  derive: (item: Item, tools: FactTools): CameraNumbers => {
    const own = item.pattern?.kind === 'circle' ? undefined : item.pattern?.camera;
    const name = item.id.value;
    if (own === undefined && isMissing(tools.world.aircraft)) aircraftOfPlan(tools);
    const camera = own ?? aircraftOfPlan(tools).camera;
    if (camera === undefined) {
      throw new NotAssessed(`${name} asks for an overlap, and neither it nor the aircraft file gives a camera`);
    }
    const sensorAcross = given(camera.sensorAcross, `the width of the sensor of the camera of ${name}`).value;
    const sensorAlong = given(camera.sensorAlong, `the length of the sensor of the camera of ${name}`).value;
    const focalLength = given(camera.focalLength, `the focal length of the camera of ${name}`).value;
    if (!(sensorAcross > 0 && sensorAlong > 0 && focalLength > 0)) {
      throw new NotAssessed(`a sensor or a focal length of 0 mm tells nothing about the photos of ${name}`);
    }
    const { imageAcross, imageAlong } = camera;
    const pitches = [
      ...(imageAcross === undefined ? [] : [sensorAcross / imageAcross.value]),
      ...(imageAlong === undefined ? [] : [sensorAlong / imageAlong.value]),
    ];
    const numbers = { sensorAcross, sensorAlong, focalLength, camera };
    return pitches.length === 0 ? numbers : { ...numbers, pitch: Math.max(...pitches) };
  },
});

const middleOfPattern = (text: SurveyText | CorridorText, name: string): LonLat => {
  const middle =
    text.kind === 'survey'
      ? innerPoint(ringOfOutline(given(text.outline, `the outline of ${name}`)))
      : text.along?.[Math.floor(text.along.length / 2)]?.value;
  return given(middle, `the middle of ${name}`);
};

/**
 * The height above ground that a survey or corridor is planned for: as written above ground, else above the ground in its
 * middle. The real height changes with the ground; the rules about photos look at that.
 */
const plannedHeight = (item: Item, text: SurveyText | CorridorText, tools: FactTools): MetresAboveGround => {
  const name = item.id.value;
  const height = (text.terms.follows?.height ?? given(text.altitude, `the altitude of ${name}`)).value;
  if ('aboveGround' in height) return height.aboveGround;
  const middle = middleOfPattern(text, name);
  const over = (craft: MetresAboveSea): MetresAboveGround =>
    overGround(craft, groundAtPlace(middle, `the middle of ${name}`, tools));
  if ('aboveSea' in height) return over(height.aboveSea);
  if ('aboveTakeOff' in height) {
    const flight = given(
      tools.plan.flights.find(({ items }) => items.includes(item)),
      `the flight of ${name}`,
    );
    return over(onTakeOff(tools.ask(takeOffElevation, flight.first).value, height.aboveTakeOff));
  }
  return over(fromEllipsoid(height.aboveEllipsoid, middle, `the height of ${name}`, tools));
};

/** The photos of a pattern as planned, over ground as high as in its middle. */
export interface PhotoPlan {
  readonly height: MetresAboveGround;
  /** Length on the ground of the side across the direction of flight, and of the one along it. */
  readonly across: Metres;
  readonly along: Metres;
  readonly samplingDistance?: Metres;
  /** From photo to photo; absent where no overlap along the line is asked for. */
  readonly base?: Metres;
  readonly numbers: CameraNumbers;
}

export const photoPlan = defineFact({
  name: 'photo-plan',
  derive: (item: Item, tools: FactTools): PhotoPlan => {
    const { pattern } = item;
    if (pattern === undefined || pattern.kind === 'circle') {
      throw new NotAssessed(`${item.id.value} is no pattern for photos`);
    }
    const numbers = tools.ask(patternCamera, item);
    const height = plannedHeight(item, pattern, tools);
    if (!(height > 0)) throw new NotAssessed(`${item.id.value} is not above the ground in its middle`);
    const { sensorAcross, sensorAlong, focalLength, pitch } = numbers;
    const along = footprintOf(sensorAlong, focalLength, height);
    const front = pattern.overlap?.front?.value;
    return {
      height,
      across: footprintOf(sensorAcross, focalLength, height),
      along,
      ...(pitch !== undefined && { samplingDistance: samplingDistance(pitch, focalLength, height) }),
      ...(front !== undefined && { base: distanceForOverlap(along, front) }),
      numbers,
    };
  },
});

/** From line to line as written, else by the overlap that is asked for; and where that stands. */
export const lineSpacing = (
  item: Item,
  text: SurveyText | CorridorText,
  tools: FactTools,
): { readonly value: Metres; readonly at: Span } => {
  const { spacing, overlap } = text;
  if (spacing !== undefined) return { value: spacing.value, at: spacing.span };
  const side = overlap?.side;
  if (side === undefined) {
    throw new NotAssessed(`${item.id.value} gives neither \`spacing\` nor \`overlap: { side: ... }\` with a camera`);
  }
  return { value: distanceForOverlap(tools.ask(photoPlan, item).across, side.value), at: side.span };
};

/** From line to line as it is flown. */
export const flownSpacing = (item: Item, text: SurveyText | CorridorText, tools: FactTools): Metres => {
  if (text.kind === 'corridor' && text.lines !== undefined) {
    return metres(given(text.width, `the width of ${item.id.value}`).value / text.lines.value);
  }
  return lineSpacing(item, text, tools).value;
};

/** Whether a pattern is flown for photos: it says something of them. */
export const asksForPhotos = ({ overlap, camera, groundSamplingDistance }: SurveyText | CorridorText): boolean =>
  overlap !== undefined || camera !== undefined || groundSamplingDistance !== undefined;
