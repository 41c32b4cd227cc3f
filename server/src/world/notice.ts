import { type Box, boxAround, growBox } from '../geo/box.ts';
import { LENGTH_UNITS } from '../units/convert.ts';
import { type Instant, metres } from '../units/frames.ts';
import { Unusable } from './geojson-features.ts';
import { areaIn, type NoticeArea } from './notice-area.ts';
import { firstPositionIn } from './notice-shape.ts';
import { readGroup, readSchedule } from './notice-times.ts';
import type { ActiveTime, Zone, ZoneEdge, ZoneKind, ZoneShape } from './zone.ts';
import { pressureAltitudeOf, readEdge } from './zone-edge.ts';

/**
 * A notice in the form of ICAO Annex 15, appendix 3 (from memory): lines Q) to G). `zones` are what it restricts, as far
 * as was understood. Where the lateral limits in its text were not understood, the zones are the circle of its Q) line,
 * which holds them: outside of it the notice does not matter, inside nobody knows.
 */
export interface Notice {
  /** `A1234/26`, or how its text begins. */
  readonly name: string;
  readonly zones: readonly Zone[];
  /** Why the zones only bound what it restricts; absent where they are that. */
  readonly bounds?: string;
  /** The notice that this one replaces or cancels. */
  readonly ends?: string;
  /** Why nothing of it could be used. Quotes what was not understood. */
  readonly unread?: string;
}

interface Fields {
  readonly q?: string;
  readonly b?: string;
  readonly c?: string;
  readonly d?: string;
  readonly e?: string;
  readonly f?: string;
  readonly g?: string;
}

const ORDER = 'QABCDEFG';

/** Fields stand in one order, so a letter in brackets that comes too early belongs to a text. F) and G) begin after E). */
const fieldsOf = (text: string): Fields => {
  const marks: { readonly letter: string; readonly from: number; readonly to: number }[] = [];
  for (const match of text.matchAll(/(?<![A-Za-z0-9(])([QA-G])\)/g)) {
    const letter = match[1] ?? '';
    const last = marks[marks.length - 1];
    if (last !== undefined && ORDER.indexOf(letter) <= ORDER.indexOf(last.letter)) continue;
    if (last === undefined && !'QAB'.includes(letter)) continue;
    marks.push({ letter, from: match.index, to: match.index + match[0].length });
  }
  return Object.fromEntries(
    marks.map(({ letter, to }, i) => [letter.toLowerCase(), text.slice(to, marks[i + 1]?.from ?? text.length).trim()]),
  );
};

const inOneLine = (text: string): string => text.replace(/\s+/g, ' ').trim();

const boxOf = (shape: ZoneShape): Box => {
  const places = shape.kind === 'circle' ? [shape.centre] : shape.polygons.flat(2);
  const around = boxAround(places);
  if (around === undefined) throw new Unusable('has no place');
  return shape.kind === 'circle' ? growBox(around, shape.radius) : around;
};

const quote = (text: string): string => `"${inOneLine(text).slice(0, 300)}"`;

interface QLine {
  /** Second and third letter of the code: what it is about. */
  readonly subject: string;
  readonly code: string;
  readonly lower?: number;
  readonly upper?: number;
  readonly circle?: ZoneShape & { readonly kind: 'circle' };
}

/** Q) FIR / code / traffic / purpose / scope / lower / upper / centre and radius in NM. */
const readQ = (text: string | undefined): QLine | undefined => {
  const parts = (text ?? '').replace(/\s+/g, '').toUpperCase().split('/');
  const code = parts[1] ?? '';
  if (parts.length < 7 || !/^Q[A-Z]{4}$/.test(code)) return undefined;
  const [lower, upper] = [parts[5], parts[6]].map((part) => (/^\d{3}$/.test(part ?? '') ? Number(part) : undefined));
  const place = parts[7] ?? '';
  const centre = firstPositionIn(place.slice(0, 11));
  const radius = /^\d{3}$/.test(place.slice(11, 14)) ? Number(place.slice(11, 14)) : undefined;
  return {
    code,
    subject: code.slice(1, 3),
    ...(lower === undefined ? {} : { lower }),
    ...(upper === undefined ? {} : { upper }),
    // The centre is rounded to a minute, so the circle gets a mile more before anything is taken to lie outside of it.
    ...(centre === undefined || radius === undefined
      ? {}
      : { circle: { kind: 'circle' as const, centre, radius: metres((radius + 1) * LENGTH_UNITS.NM) } }),
  };
};

/** What a code is about, by its second letter (ICAO Doc 8400, from memory): restrictions, warnings, obstacles. */
const kindOf = (q: QLine | undefined): ZoneKind | undefined => {
  if (q === undefined) return 'restricted';
  if (q.subject === 'RP') return 'prohibited';
  if (q.subject === 'RD' || q.subject.startsWith('W')) return 'danger';
  return q.subject.startsWith('R') ? 'restricted' : undefined;
};

/** The upper and lower limits as F) and G) write them, or those of the Q) line, in hundreds of feet. */
const edgeOf = (written: string | undefined, level: number | undefined, end: 'floor' | 'ceiling'): ZoneEdge => {
  if (written !== undefined && written !== '') {
    const text = inOneLine(written).replace(/[).\s]+$/, '');
    const spaced = text
      .replace(/^FL\s*/i, 'FL ')
      .replace(/^(\d+)\s*(FT|M)\s*/i, '$1 $2 ')
      .trim();
    return readEdge(spaced.toLowerCase().startsWith('fl') ? spaced : spaced.replace(/\bMSL\b/i, 'AMSL'), end);
  }
  if (level === undefined) return end === 'floor' ? 'surface' : 'unlimited';
  if (level === 0 && end === 'floor') return 'surface';
  return level === 999 ? 'unlimited' : { pressureAltitude: pressureAltitudeOf(level) };
};

const timesOf = ({ b, c, d }: Fields): readonly ActiveTime[] | string => {
  const begins = readGroup((b ?? '').replace(/\s+/g, ''));
  if (begins === undefined) return `B) ${b ?? ''}`;
  const end = (c ?? '').replace(/\s+/g, '').toUpperCase();
  // An estimated end does not end a notice: it stays in force until another one replaces or cancels it.
  const isOpen = end === 'PERM' || end === 'UFN' || end.endsWith('EST');
  const ends: Instant | undefined = isOpen ? undefined : readGroup(end);
  if (!isOpen && ends === undefined) return `C) ${c ?? ''}`;
  const period = { from: begins, ...(ends === undefined ? {} : { until: ends }) };
  if (d === undefined || d === '') return [period];
  const active = readSchedule(d, begins, ends);
  return active ?? [{ untold: `by the schedule ${quote(d)}, which could not be read` }];
};

/** Why the zones of a notice only bound what it restricts. */
const boundsOf = (area: NoticeArea | undefined, text: string): Pick<Notice, 'bounds'> => {
  const why = area === undefined ? 'where it holds inside the circle of its Q) line could not be read' : area.open;
  return why === undefined ? {} : { bounds: `${why}, and it says ${quote(text)}` };
};

const HEADER = /\b([A-Z]\d{4}\/\d{2})\s+NOTAM([NRC])(?:\s+([A-Z]\d{4}\/\d{2}))?/;

/** Reads the text of one notice. Total: what is not understood is said and quoted. */
export const readNotice = (written: string): Notice => {
  // The whole message stands in brackets when it comes from the network.
  const text = written.trim().replace(/^\(([\s\S]*)\)$/, '$1');
  const header = HEADER.exec(text.toUpperCase());
  const name = header?.[1] ?? inOneLine(text).slice(0, 30);
  const ends = header?.[3] === undefined ? {} : { ends: header[3] };
  if (header?.[2] === 'C') return { name, zones: [], ...ends };
  const fields = fieldsOf(text);
  if (fields.b === undefined || fields.c === undefined || fields.e === undefined) {
    return {
      name,
      zones: [],
      ...ends,
      unread: `it is not in the form of ICAO with B), C) and E), and says ${quote(text)}`,
    };
  }
  const q = readQ(fields.q);
  if (fields.q !== undefined && q === undefined)
    return { name, zones: [], ...ends, unread: `its line "Q) ${inOneLine(fields.q)}" could not be read` };
  const kind = kindOf(q);
  if (kind === undefined) {
    return {
      name,
      zones: [],
      ...ends,
      unread: `its code ${q?.code ?? ''} is not about airspace, and it says ${quote(fields.e)}`,
    };
  }
  const active = timesOf(fields);
  if (typeof active === 'string') return { name, zones: [], ...ends, unread: `its time "${active}" could not be read` };
  const area = areaIn(fields.e);
  const shapes = area?.shapes ?? (q?.circle === undefined ? [] : [q.circle]);
  if (shapes.length === 0) {
    return { name, zones: [], ...ends, unread: `where it holds could not be read, and it says ${quote(fields.e)}` };
  }
  try {
    const floor = edgeOf(fields.f, q?.lower, 'floor');
    const ceiling = edgeOf(fields.g, q?.upper, 'ceiling');
    const layerOf = {};
    const zones = shapes.map(
      (shape): Zone => ({
        id: name,
        name,
        kind,
        shape,
        box: boxOf(shape),
        floor,
        ceiling,
        active,
        layerOf,
        text: inOneLine(fields.e ?? ''),
      }),
    );
    return {
      name,
      zones,
      ...ends,
      ...boundsOf(area, fields.e),
    };
  } catch (error) {
    if (!(error instanceof Unusable)) throw error;
    return { name, zones: [], ...ends, unread: `it ${error.message}` };
  }
};
