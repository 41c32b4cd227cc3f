import type { Camera } from './camera.ts';
import { amountOf, countOf, present, type Section, sectionOf, shutterOf } from './fields.ts';

/** Reads the camera of an aircraft, or that of one survey or corridor. */
export const readCamera = (section: Section | undefined): Camera | undefined => {
  if (section === undefined) return undefined;
  const sensor = sectionOf(section, 'sensor');
  const image = sectionOf(section, 'image');
  return present<Camera>({
    span: section.node.span,
    sensorAcross: amountOf(sensor, 'across', 'length'),
    sensorAlong: amountOf(sensor, 'along', 'length'),
    imageAcross: countOf(image, 'across'),
    imageAlong: countOf(image, 'along'),
    focalLength: amountOf(section, 'focal-length', 'length'),
    shutter: shutterOf(section, 'shutter'),
    stops: amountOf(section, 'stops', 'time'),
  });
};
