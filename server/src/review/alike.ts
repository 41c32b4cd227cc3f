/** Deeper than any value that facts and plans hold; what goes deeper is taken to differ. */
const DEEPEST = 8;

const isPlain = (value: object): boolean => {
  const proto: unknown = Object.getPrototypeOf(value);
  return proto === Object.prototype || proto === null;
};

/** An anchor moves with its text, so two of them are never the same although they may stand at one place today. */
const isAnchor = (value: object): boolean => 'document' in value && 'at' in value && typeof value.at === 'number';

/**
 * Whether two values say the same, so that one may stand for the other: equal numbers and texts, lists, maps and plain
 * records of such. Anything else is the same only as itself. When in doubt they differ, which costs time and no truth.
 */
export const alike = (one: unknown, other: unknown, depth = 0): boolean => {
  if (Object.is(one, other)) return true;
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null) return false;
  if (depth > DEEPEST) return false;
  if (Array.isArray(one)) {
    if (!Array.isArray(other) || one.length !== other.length) return false;
    for (let i = 0; i < one.length; i++) if (!alike(one[i], other[i], depth + 1)) return false;
    return true;
  }
  if (one instanceof Map) {
    if (!(other instanceof Map) || one.size !== other.size) return false;
    for (const [key, value] of one) if (!other.has(key) || !alike(value, other.get(key), depth + 1)) return false;
    return true;
  }
  if (!isPlain(one) || !isPlain(other) || isAnchor(one)) return false;
  const keys = Object.keys(one);
  if (keys.length !== Object.keys(other).length) return false;
  for (const key of keys) {
    if (!Object.hasOwn(other, key) || !alike(Reflect.get(one, key), Reflect.get(other, key), depth + 1)) return false;
  }
  return true;
};
