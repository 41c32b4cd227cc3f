import type { Span, Written } from '../text/span.ts';
import type { Kilograms, MetresPerSecond } from '../units/frames.ts';
import { amountOf, movingOf, present, type Section, textOf } from './fields.ts';
import type { Amount } from './model.ts';

/** A thing that is let fall at a point. */
export interface Drop {
  readonly span: Span;
  readonly what?: Written<string>;
  readonly mass?: Amount<Kilograms>;
  /** Downwards; absent = it falls freely. */
  readonly sinks?: Amount<MetresPerSecond>;
}

export const readDrop = (section: Section | undefined): Drop | undefined =>
  section &&
  present<Drop>({
    span: section.node.span,
    what: textOf(section, 'what'),
    mass: amountOf(section, 'mass', 'mass'),
    sinks: movingOf(section, 'sinks'),
  });
