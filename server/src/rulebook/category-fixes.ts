import { categoriesOf, type OpenCategory } from '../facts/eu-classes.ts';
import { orLacking } from '../facts/lacking.ts';
import type { Plan } from '../plan/model.ts';
import type { Written } from '../text/span.ts';
import { isMissing, type World } from '../world/world.ts';
import type { Fix } from './finding.ts';
import { replace } from './words.ts';

/** The subcategories that are open to the aircraft and to what the pilot holds. */
const openTo = (plan: Plan, world: World): readonly OpenCategory[] => {
  const { aircraft } = world;
  const open = isMissing(aircraft) ? undefined : orLacking(() => categoriesOf(aircraft).open);
  if (open === undefined || 'missing' in open) return [];
  const holdsA2 = /\bA2\b/.test(plan.crew.pilot?.held?.value ?? '');
  return open.known.filter((category) => category !== 'A2' || holdsA2);
};

/** One fix for each subcategory of the open category that this plan could state instead. */
export const categoryFixes = (written: Written<string>, plan: Plan, world: World): readonly Fix[] =>
  openTo(plan, world).map((category) => ({
    title: `Fly in ${category} (was ${written.value})`,
    effect: 'changes-flight' as const,
    edits: [replace(written.span, category)],
  }));
