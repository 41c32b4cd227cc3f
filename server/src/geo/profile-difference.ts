import { addPiece, addUnknown, closeProfile, draftProfile, pieceAt } from './ground-profile.ts';
import type { GroundProfile } from './height-grid.ts';

/** The coefficients of a profile's piece, counted from another place on it. */
const shifted = (profile: GroundProfile, along: number): readonly [number, number, number] => {
  const piece = pieceAt(profile, along);
  const t = along - (profile.along[piece] ?? 0);
  const [a, b, c] = [profile.a[piece] ?? Number.NaN, profile.b[piece] ?? 0, profile.c[piece] ?? 0];
  return [a + (b + c * t) * t, b + 2 * c * t, c];
};

/** How much higher one profile is than another of the same path. Without data where either has none. */
export const differenceOf = (upper: GroundProfile, lower: GroundProfile): GroundProfile => {
  const length = upper.along[upper.pieces] ?? 0;
  const starts = [...upper.along.subarray(0, upper.pieces), ...lower.along.subarray(0, lower.pieces)];
  const draft = draftProfile();
  let last = -1;
  for (const start of starts.sort((one, other) => one - other)) {
    if (start === last) continue;
    last = start;
    const [a, b, c] = shifted(upper, start);
    const [a2, b2, c2] = shifted(lower, start);
    if (Number.isNaN(a - a2)) addUnknown(draft, start);
    else addPiece(draft, start, a - a2, b - b2, c - c2);
  }
  return closeProfile(draft, length);
};
