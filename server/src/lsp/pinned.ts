import type { Span } from '../text/span.ts';

const isSpan = (value: object): value is Span => 'anchor' in value && 'from' in value && 'to' in value;

/**
 * A copy whose places stay where they are. The places of a plan move when its next text is read; what is shown of the
 * text before, or is still on its way to the client, must not move along.
 */
export const pinned = <T>(value: T): T => copy(value) as T;

const copy = (value: unknown): unknown => {
  if (typeof value !== 'object' || value === null) return value;
  if (Array.isArray(value)) return value.map(copy);
  if (isSpan(value)) return { ...value, anchor: { ...value.anchor } };
  return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, copy(part)]));
};
