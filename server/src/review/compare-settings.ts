import type { HouseLimit, HouseLimits, Settings } from '../plan/settings.ts';
import { sayNumber } from '../units/say.ts';

/** What a change of the settings does to the rules of the house. */
export interface SettingsChange {
  readonly kind: 'limit loosened' | 'limit tightened' | 'rule switched off' | 'rule switched on';
  /** The limit, or the rule. */
  readonly name: string;
  readonly before?: string;
  readonly after?: string;
}

type LimitName = keyof HouseLimits;
type AnyLimit = HouseLimit<{ readonly value: unknown; readonly number: number; readonly unit: string }>;

/** Of these more is stricter; of all others less is. */
const MORE_IS_STRICTER: ReadonlySet<LimitName> = new Set([
  'groundClearance',
  'terrainMargin',
  'reserve',
  'peopleDistance',
  'zoneMargin',
]);

/** In SI, whatever unit or datum it is written in. */
const sizeOf = ({ value }: AnyLimit): number => {
  const { value: size } = value;
  if (typeof size === 'number') return size;
  const [only] = typeof size === 'object' && size !== null ? Object.values(size) : [];
  return typeof only === 'number' ? only : Number.NaN;
};

const limitsOf = ({ limits }: Settings): ReadonlyMap<LimitName, AnyLimit> =>
  new Map(Object.entries(limits) as readonly (readonly [LimitName, AnyLimit])[]);

/** Whether the first is at least as strict as the other; no limit at all is the loosest. */
const isAsStrict = (name: LimitName, one: AnyLimit | undefined, other: AnyLimit | undefined): boolean => {
  if (other === undefined) return true;
  if (one === undefined) return false;
  return MORE_IS_STRICTER.has(name) ? sizeOf(one) >= sizeOf(other) : sizeOf(one) <= sizeOf(other);
};

const sayLimit = ({ value }: AnyLimit): string => `${sayNumber(value.number, 4)} ${value.unit}`;

/** `groundClearance` → `ground-clearance`, as it is written. */
const written = (name: LimitName): string => name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);

/** The settings that are at least as strict as both: the stricter of each limit, and off only what both switch off. */
export const stricterOf = (before: Settings, after: Settings): Settings => {
  const [old, now] = [limitsOf(before), limitsOf(after)];
  const limits = Object.fromEntries(
    [...new Set([...old.keys(), ...now.keys()])].map((name) => [
      name,
      isAsStrict(name, now.get(name), old.get(name)) ? now.get(name) : old.get(name),
    ]),
  ) as HouseLimits;
  const wasOff = new Set(before.off.map(({ rule }) => rule.value));
  return { ...after, limits, off: after.off.filter(({ rule }) => wasOff.has(rule.value)) };
};

/** What is looser or stricter than it was. */
export const settingsChanges = (before: Settings, after: Settings): readonly SettingsChange[] => {
  const [old, now] = [limitsOf(before), limitsOf(after)];
  const changes: SettingsChange[] = [];
  for (const name of new Set([...old.keys(), ...now.keys()])) {
    const [was, is] = [old.get(name), now.get(name)];
    const texts = { ...(was && { before: sayLimit(was) }), ...(is && { after: sayLimit(is) }) };
    if (!isAsStrict(name, is, was)) changes.push({ kind: 'limit loosened', name: written(name), ...texts });
    else if (!isAsStrict(name, was, is)) changes.push({ kind: 'limit tightened', name: written(name), ...texts });
  }
  const names = (settings: Settings): ReadonlyMap<string, string> =>
    new Map(settings.off.map(({ rule, because }) => [rule.value, because?.value ?? '']));
  const [wasOff, isOff] = [names(before), names(after)];
  for (const [name, because] of isOff) {
    if (!wasOff.has(name)) changes.push({ kind: 'rule switched off', name, after: because });
  }
  for (const [name, because] of wasOff) {
    if (!isOff.has(name)) changes.push({ kind: 'rule switched on', name, before: because });
  }
  return changes;
};
