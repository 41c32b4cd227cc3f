import { existsSync } from 'node:fs';
import { inProject } from './project.ts';

/** Path of a file of the reference data that lies beside the project on some machines. */
export const inReferenceData = (path: string): string => inProject(`../shared/data/${path}`);

export const hasReferenceData = (path: string): boolean => existsSync(inReferenceData(path));

/** Put into the names of tests that need it, so that a skipped one says why. */
export const NEEDS_REFERENCE_DATA = 'skipped where the reference data folder is absent';
