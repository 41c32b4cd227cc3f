import type { Plan } from '../plan/model.ts';
import type { Written } from '../text/span.ts';
import type { Provenance, World } from '../world/world.ts';

/** The kinds of files about the world whose age matters, as a plan refers to them. */
export const SOURCE_KINDS = ['terrain', 'geoid', 'airspace', 'obstacles', 'people', 'runways'] as const;
export type SourceKind = (typeof SOURCE_KINDS)[number];

/** A reference of the plan to a file about the world. */
export interface SourceReference {
  readonly kind: SourceKind;
  readonly reference: Written<string>;
}

/** All files about the world that a plan names, in the order of their kinds. */
export const sourceReferences = (plan: Plan): readonly SourceReference[] => {
  const of = (kind: SourceKind, references: readonly Written<string>[]): readonly SourceReference[] =>
    references.map((reference) => ({ kind, reference }));
  return [
    ...of('terrain', plan.terrain),
    ...of('geoid', plan.geoid === undefined ? [] : [plan.geoid]),
    ...of('airspace', plan.airspace),
    ...of('obstacles', plan.obstacles?.kind === 'list' ? plan.obstacles.files : []),
    ...of('people', plan.people?.files ?? []),
    ...of('runways', plan.runways),
  ];
};

/** A tile of a folder stands under the folder's reference. */
export const isOfReference = (source: Provenance, reference: string): boolean =>
  source.name === reference || source.name.startsWith(`${reference.replace(/\/+$/, '')}/`);

/** The sources that were loaded through a reference: one, or the tiles of a folder; none where it could not be opened. */
export const sourcesBehind = (reference: string, world: World): readonly Provenance[] =>
  world.data.filter((source) => isOfReference(source, reference));
