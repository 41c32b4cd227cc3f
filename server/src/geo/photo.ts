import { type Metres, metres } from '../units/frames.ts';

/**
 * Vertical photos over flat ground: P. R. Wolf, B. A. Dewitt, B. E. Wilkinson, Elements of Photogrammetry with Applications
 * in GIS, ch. 18 (planning). Heights are above the ground that is photographed; all lengths in metres.
 */

/** Length on the ground of a side of the sensor. */
export const footprintOf = (sensorSide: number, focalLength: number, height: number): Metres =>
  metres((sensorSide * height) / focalLength);

/** Distance on the ground from pixel to pixel; `pitch` is the distance of the pixels on the sensor. */
export const samplingDistance = (pitch: number, focalLength: number, height: number): Metres =>
  metres((pitch * height) / focalLength);

/** The height that gives a ground sampling distance. */
export const heightForSampling = (pitch: number, focalLength: number, distance: number): Metres =>
  metres((distance * focalLength) / pitch);

/** From photo to photo (the photo base) or from line to line, so that footprints share a part of their length. */
export const distanceForOverlap = (footprint: number, overlap: number): Metres => metres((1 - overlap) * footprint);

/** The part that footprints share which lie so far from each other; below 0 where there is a gap between them. */
export const overlapAt = (distance: number, footprint: number): number => 1 - distance / footprint;

/** How many photos a line takes, from its start to its end. */
export const photosOn = (length: number, base: number): number => Math.max(1, Math.ceil(length / base - 1e-6) + 1);

/** How far the picture of the ground moves on the sensor while the shutter is open, in pixels. */
export const blurInPixels = (speed: number, shutter: number, sampling: number): number => (speed * shutter) / sampling;
