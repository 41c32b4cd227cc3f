import { CompletionItemKind } from 'vscode-languageserver';
import type { Item, Plan } from '../../plan/model.ts';
import type { LonLat } from '../../units/frames.ts';
import { sayNumber, sayPosition } from '../../units/say.ts';
import type { Suggestion } from './suggestion.ts';

interface NamedPlace {
  readonly name: string;
  readonly at: LonLat;
}

const ofItem = (item: Item): readonly NamedPlace[] => {
  const name = `${item.kind} ${item.id.value}`;
  const { inside } = item.area ?? {};
  const centre = inside?.kind === 'circle' ? [{ name, at: inside.around.value }] : [];
  const corners =
    inside?.kind === 'polygon'
      ? inside.ring.map(({ value }, i) => ({ name: `${name}, corner ${i + 1}`, at: value }))
      : [];
  return [...(item.at === undefined ? [] : [{ name, at: item.at.value }]), ...centre, ...corners];
};

/** More places than these would bury the ones that are meant. */
const MOST = 200;

/** Every place that a plan names, in the order of its text, each once. */
const placesOf = (plan: Plan): readonly NamedPlace[] => {
  const { site, crew, obstacles, items } = plan;
  const watchers = [crew.pilot, ...crew.observers].flatMap((member) => {
    const stands = member?.stands?.value;
    if (member === undefined || stands === undefined || typeof stands === 'string') return [];
    return [{ name: member.name === undefined ? member.role : `${member.role} ${member.name.value}`, at: stands }];
  });
  const listed = obstacles?.kind === 'list' ? obstacles.listed : [];
  const all = [
    ...(site.takeOff?.at === undefined ? [] : [{ name: 'take-off place', at: site.takeOff.at.value }]),
    ...watchers,
    ...listed.flatMap(({ name, at }) => (at === undefined ? [] : [{ name: `obstacle ${name.value}`, at: at.value }])),
    ...items.slice(0, MOST).flatMap(ofItem),
  ];
  const seen = new Set<string>();
  return all.filter(({ at }) => {
    const said = sayPosition(at);
    if (seen.has(said)) return false;
    seen.add(said);
    return true;
  });
};

/** Positions that the plan has already, by the names of what stands there. In braces they are two keys. */
export const suggestPlaces = (plan: Plan, style: 'block' | 'flow'): readonly Suggestion[] =>
  placesOf(plan).map(({ name, at }) => ({
    label: sayPosition(at),
    kind: CompletionItemKind.Reference,
    detail: name,
    matched: `${sayPosition(at)} ${name}`,
    ...(style === 'flow' ? { text: `{ lat: ${sayNumber(at.lat, 6)}, lon: ${sayNumber(at.lon, 6)} }` } : {}),
    rank: 2,
  }));

/** One half of the positions that the plan has already. */
export const suggestHalves = (plan: Plan, half: 'latitude' | 'longitude'): readonly Suggestion[] =>
  placesOf(plan).map(({ name, at }) => {
    const label = sayNumber(half === 'latitude' ? at.lat : at.lon, 6);
    return {
      label,
      kind: CompletionItemKind.Reference,
      detail: `${half} of ${name}`,
      matched: `${label} ${name}`,
      rank: 2,
    };
  });
