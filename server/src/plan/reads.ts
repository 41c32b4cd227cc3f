import type { Reads } from './describe.ts';
import { readCount } from './scalars/count.ts';
import { readHeight } from './scalars/height.ts';
import { readLostLinkAction } from './scalars/lost-link-action.ts';
import { readPosition } from './scalars/position.ts';
import { readPowerAtSpeed } from './scalars/power.ts';
import { readAmount } from './scalars/quantity.ts';
import type { Reading } from './scalars/reading.ts';
import { readShutter } from './scalars/shutter.ts';
import { readFollows, readLegSpeed } from './scalars/speed.ts';
import { readDate, readDateOrTime, readTime } from './scalars/time.ts';

/** Reads a text as the schema says of its field; undefined for words and texts, which are taken as they are. */
export const readsAs = (reads: Reads | undefined, text: string): Reading<object> | undefined => {
  switch (reads) {
    case 'height':
      return readHeight(text);
    case 'length':
    case 'speed':
    case 'time':
    case 'mass':
    case 'angle':
    case 'pressure':
    case 'energy':
    case 'power':
    case 'share':
    case 'density':
    case 'surface':
    case 'temperature':
      return readAmount(text, reads);
    case 'lost-link-action':
      return readLostLinkAction(text);
    case 'count':
      return readCount(text);
    case 'shutter':
      return readShutter(text);
    case 'leg-speed':
      return readLegSpeed(text);
    case 'power-at-speed':
      return readPowerAtSpeed(text);
    case 'follows':
      return readFollows(text);
    case 'position':
      return readPosition(text);
    case 'instant':
      return readTime(text);
    case 'date':
      return readDate(text);
    case 'date-or-time':
      return readDateOrTime(text);
    default:
      return undefined;
  }
};

const NOUNS: Readonly<Record<Reads, string>> = {
  height: 'a height',
  length: 'a length',
  speed: 'a speed',
  'leg-speed': 'a speed',
  time: 'a time',
  instant: 'a time',
  date: 'a date',
  'date-or-time': 'a date or a time',
  position: 'a position',
  latitude: 'a latitude',
  longitude: 'a longitude',
  mass: 'a mass',
  angle: 'a direction',
  pressure: 'a pressure',
  energy: 'an energy',
  power: 'a power',
  share: 'a share',
  density: 'a number on a square kilometre',
  surface: 'a surface',
  'power-at-speed': 'a power at a speed',
  temperature: 'a temperature',
  amount: 'a number with a unit',
  follows: 'a height above ground and how closely it is kept',
  'lost-link-action': 'what the aircraft does',
  count: 'a whole number',
  shutter: 'an exposure time',
  stands: 'a position or a place',
  word: 'a word',
  text: 'a text',
  reference: 'the path of a file',
  format: 'a format number',
};

/** `a height` */
export const sayReads = (reads: Reads): string => NOUNS[reads];
