import { type Markup, markup } from './markup.ts';

/** A rectangle on a picture, in its units; x to the right, y downwards. */
export interface Area {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

interface Place {
  readonly x: number;
  readonly y: number;
}

const meet = (one: Area, other: Area): boolean =>
  one.x < other.x + other.width &&
  other.x < one.x + one.width &&
  one.y < other.y + other.height &&
  other.y < one.y + one.height;

/** Width of a text in a sans-serif face, on the wide side: nobody measures letters here. */
export const widthOf = (text: string, size: number): number => [...text].length * size * 0.58;

/** Directions in which a label is tried around its place, and how far away. */
const AROUND = [
  [1, 0],
  [-1, 0],
  [0, -1],
  [0, 1],
  [1, -1],
  [-1, -1],
  [1, 1],
  [-1, 1],
] as const;
type Ways = readonly (readonly [number, number])[];
/** For the name of a line: above it, else below. */
export const ABOVE: Ways = [
  [0, -1],
  [0, 1],
];
const REACHES = [8, 20, 34, 52] as const;

const label = (x: number, y: number, text: string, size: number, weight: string): Markup =>
  markup`<text x="${x}" y="${y}" font-size="${size}" font-weight="${weight}" class="halo" stroke="#fff" stroke-width="3" paint-order="stroke">${text}</text>`;

const MOST_TAKEN = 3000;

/** Puts labels where none is yet. What finds no room is left out of the picture; the tables have it. */
export class Labels {
  readonly #frame: Area;
  readonly #taken: Area[] = [];

  constructor(frame: Area) {
    this.#frame = frame;
  }

  /** Keeps a rectangle free of labels. */
  take(area: Area): void {
    if (this.#taken.length < MOST_TAKEN) this.#taken.push(area);
  }

  #isFree(area: Area): boolean {
    // A picture so full has no room that is worth looking for.
    if (this.#taken.length >= MOST_TAKEN) return false;
    const { x, y, width, height } = this.#frame;
    const inside = area.x >= x && area.y >= y && area.x + area.width <= x + width && area.y + area.height <= y + height;
    return inside && !this.#taken.some((taken) => meet(taken, area));
  }

  /** A label beside a place, with a thin line to it where it had to go farther away; nothing where there is no room. */
  beside(at: Place, text: string, size: number, weight = 'normal', ways: Ways = AROUND): Markup {
    const width = widthOf(text, size);
    const height = size * 1.15;
    for (const reach of REACHES) {
      for (const [right, down] of ways) {
        const x = at.x + right * reach + (right > 0 ? 0 : right < 0 ? -width : -width / 2);
        const y = at.y + down * reach + (down > 0 ? 0 : down < 0 ? -height : -height / 2);
        const area = { x, y, width, height };
        if (!this.#isFree(area)) continue;
        this.take(area);
        const line =
          reach < 20
            ? undefined
            : markup`<line x1="${at.x}" y1="${at.y}" x2="${right < 0 ? x + width : right > 0 ? x : x + width / 2}" y2="${y + height / 2}" stroke="currentColor" stroke-width="0.6"/>`;
        return markup`${line}${label(x, y + size * 0.9, text, size, weight)}`;
      }
    }
    return markup``;
  }

  /** A label in the first of some rows where there is room around a middle; nothing where there is none. */
  row(middle: number, text: string, size: number, tops: readonly number[]): Markup {
    const width = widthOf(text, size) + 6;
    for (const y of tops) {
      if (this.#taken.length >= MOST_TAKEN) break;
      const area = { x: middle - width / 2, y, width, height: size };
      if (this.#taken.some((taken) => meet(taken, area))) continue;
      this.take(area);
      return markup`<text x="${middle}" y="${y + size * 0.9}" text-anchor="middle" font-size="${size}">${text}</text>`;
    }
    return markup``;
  }

  /** A label around the first of some spots where there is room for it, without a line to it. */
  over(spots: readonly Place[], text: string, size: number): Markup {
    const width = widthOf(text, size);
    const height = size * 1.15;
    for (const spot of spots) {
      const area = { x: spot.x - width / 2, y: spot.y - height / 2, width, height };
      if (!this.#isFree(area)) continue;
      this.take(area);
      return label(area.x, area.y + size * 0.9, text, size, 'normal');
    }
    return markup``;
  }
}
