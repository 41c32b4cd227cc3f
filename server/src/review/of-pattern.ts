import type { Item } from '../plan/model.ts';
import type { Complaint, Gap } from '../rulebook/finding.ts';

/** The pattern that a subject was worked out from: that of a point, or of the point at which a leg ends. */
export const patternOf = (subject: object): Item | undefined => {
  const item = ('to' in subject ? subject.to : subject) as Partial<Item>;
  return item.partOf?.pattern;
};

const nameOf = ({ kind, id }: Item): string => `${kind} ${id.value}`;

/**
 * A complaint about a point or leg of a pattern. Who wrote the pattern wrote it once, so that all of one rule become one
 * finding on it, where no other field is to blame.
 */
export const blamePattern = (complaint: Complaint, pattern: Item | undefined): Complaint =>
  pattern === undefined || complaint.cause !== undefined
    ? complaint
    : { ...complaint, cause: { at: complaint.at, name: nameOf(pattern) } };

/** A gap about a point or leg of a pattern: those that differ by the numbers of lines and metres only become one. */
export const gapInPattern = (gap: Gap, pattern: Item | undefined): Gap =>
  pattern === undefined ? gap : { ...gap, within: nameOf(pattern) };
