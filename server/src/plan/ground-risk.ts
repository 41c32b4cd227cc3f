import type { Span, Written } from '../text/span.ts';
import type { PerSquareKilometre } from '../units/frames.ts';
import type { Amount } from './model.ts';

/** Editions of JARUS SORA whose ground risk classes are known here. */
export const SORA_EDITIONS = ['SORA 2.0', 'SORA 2.5'] as const;
export type SoraEdition = (typeof SORA_EDITIONS)[number];

export const POPULATIONS = ['sparsely populated', 'populated', 'gathering of people'] as const;
export type Population = (typeof POPULATIONS)[number];

/** Mitigations of the ground risk with their robustness, of both editions. */
export const MITIGATIONS = [
  'M1(A) low',
  'M1(A) medium',
  'M1(B) medium',
  'M1(B) high',
  'M1(C) low',
  'M1 low',
  'M1 medium',
  'M1 high',
  'M2 medium',
  'M2 high',
  'M3 none',
  'M3 adequate',
  'M3 validated',
] as const;
export type Mitigation = (typeof MITIGATIONS)[number];

/** The ways to work out a ground risk buffer. */
export const BUFFERS = ['1:1', 'ballistic', 'parachute', 'glide'] as const;
export type BufferKind = (typeof BUFFERS)[number];

/** What a plan in the specific category says of its ground risk. */
export interface GroundRisk {
  readonly span: Span;
  readonly edition?: Written<SoraEdition>;
  /** Most people on a square kilometre in the operational volume and the ground risk buffer: SORA 2.5. */
  readonly density?: Amount<PerSquareKilometre>;
  readonly controlledGround?: Written<'yes' | 'no'>;
  /** SORA 2.0. */
  readonly population?: Written<Population>;
  readonly sight?: Written<'VLOS' | 'BVLOS'>;
  readonly buffer?: Written<BufferKind>;
  readonly initialClass?: Written<number>;
  readonly mitigations: readonly Written<Mitigation>[];
  /** Whether some mitigation could not be read. */
  readonly mitigationsUnread: boolean;
  readonly finalClass?: Written<number>;
}
