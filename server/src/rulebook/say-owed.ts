import type { LeadKind } from '../plan/settings.ts';
import { sayNumber } from '../units/say.ts';
import type { Owed } from './rule.ts';

const NOUNS: Readonly<Record<LeadKind, string>> = {
  airspace: 'leave to fly there',
  waiver: 'a waiver',
  operation: 'leave for the operation',
  ground: 'leave to use the ground',
  registration: 'a registration',
  competency: 'a test or training',
};

/** What is asked for: "a waiver". */
export const sayAskedFor = ({ kind }: Pick<Owed, 'kind'>): string => NOUNS[kind];

/** "which takes 90 d by the settings of the house"; empty where they say nothing. */
export const sayLeadTime = ({ leadTime }: Owed): string =>
  leadTime === undefined ? '' : `takes ${sayNumber(leadTime.number, 4)} ${leadTime.unit} by the settings of the house`;
