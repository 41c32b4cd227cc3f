import type { GroundProfile } from './height-grid.ts';

/** A profile while it grows. Call `closeProfile` with the path's length when the last piece is in. */
export interface ProfileDraft {
  readonly along: number[];
  readonly a: number[];
  readonly b: number[];
  readonly c: number[];
}

export const draftProfile = (): ProfileDraft => ({ along: [], a: [], b: [], c: [] });

export const addPiece = (draft: ProfileDraft, along: number, a: number, b: number, c: number): void => {
  draft.along.push(along);
  draft.a.push(a);
  draft.b.push(b);
  draft.c.push(c);
};

/** Adds a stretch without data. Neighbouring stretches without data are one. */
export const addUnknown = (draft: ProfileDraft, along: number): void => {
  const last = draft.a[draft.a.length - 1];
  if (last !== undefined && Number.isNaN(last)) return;
  addPiece(draft, along, Number.NaN, 0, 0);
};

export const closeProfile = (draft: ProfileDraft, length: number): GroundProfile => {
  if (draft.along.length === 0) addUnknown(draft, 0);
  const pieces = draft.along.length;
  const along = new Float64Array(pieces + 1);
  along.set(draft.along);
  along[pieces] = length;
  return {
    pieces,
    along,
    a: Float64Array.from(draft.a),
    b: Float64Array.from(draft.b),
    c: Float64Array.from(draft.c),
  };
};

/** A profile without any data over a length in metres. */
export const unknownProfile = (length: number): GroundProfile => closeProfile(draftProfile(), length);

/** Level ground at a height above mean sea level under a path: a plane that a craft's altitude is compared with. */
export const levelProfile = (length: number, height: number): GroundProfile => {
  const draft = draftProfile();
  addPiece(draft, 0, height, 0, 0);
  return closeProfile(draft, length);
};

/** Puts the part of a profile between two distances into a draft. */
const addStretch = (draft: ProfileDraft, profile: GroundProfile, from: number, to: number): void => {
  let piece = pieceAt(profile, from);
  let start = from;
  for (; piece < profile.pieces; piece++) {
    const pieceStart = profile.along[piece] ?? 0;
    if (pieceStart > to || (pieceStart === to && to > from)) return;
    start = Math.max(from, pieceStart);
    const a = profile.a[piece] ?? Number.NaN;
    if (Number.isNaN(a)) {
      addUnknown(draft, start);
      continue;
    }
    const b = profile.b[piece] ?? 0;
    const c = profile.c[piece] ?? 0;
    const t = start - pieceStart;
    addPiece(draft, start, a + (b + c * t) * t, b + 2 * c * t, c);
  }
};

const fill = (first: GroundProfile, second: GroundProfile): GroundProfile => {
  const draft = draftProfile();
  for (let i = 0; i < first.pieces; i++) {
    const from = first.along[i] ?? 0;
    const a = first.a[i] ?? Number.NaN;
    if (!Number.isNaN(a)) addPiece(draft, from, a, first.b[i] ?? 0, first.c[i] ?? 0);
    else addStretch(draft, second, from, first.along[i + 1] ?? from);
  }
  return closeProfile(draft, first.along[first.pieces] ?? 0);
};

export const hasUnknown = (profile: GroundProfile): boolean => profile.a.some((a) => Number.isNaN(a));

/**
 * One profile of several for the same path, in order of preference: where one has no data, the next fills in. A profile
 * whose ground a better one already knows is not looked at.
 */
export const mergeProfiles = (profiles: readonly [GroundProfile, ...GroundProfile[]]): GroundProfile => {
  let [merged] = profiles;
  for (let i = 1; i < profiles.length && hasUnknown(merged); i++) {
    const next = profiles[i];
    if (next !== undefined) merged = fill(merged, next);
  }
  return merged;
};

/** The last piece that starts at or before a distance. */
export const pieceAt = (profile: GroundProfile, along: number): number => {
  let low = 0;
  let high = profile.pieces - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((profile.along[middle] ?? 0) <= along) low = middle;
    else high = middle - 1;
  }
  return low;
};

/** Ground in metres above mean sea level at a distance along the path; NaN where it has no data. */
export const groundOf = (profile: GroundProfile, along: number): number => {
  const piece = pieceAt(profile, along);
  const t = along - (profile.along[piece] ?? 0);
  const here = (profile.a[piece] ?? Number.NaN) + ((profile.b[piece] ?? 0) + (profile.c[piece] ?? 0) * t) * t;
  if (!Number.isNaN(here) || t > 0 || piece === 0) return here;
  // The place where data end belongs to the piece before as much as to the empty one after it.
  const before = piece - 1;
  const whole = along - (profile.along[before] ?? 0);
  return (profile.a[before] ?? Number.NaN) + ((profile.b[before] ?? 0) + (profile.c[before] ?? 0) * whole) * whole;
};
