import type { Slip, SlipKind, SlipOf } from '../slip.ts';

/** A slip as the scalar readers know it: without the place, which only the reader of the document knows. */
export type SlipDetails = { [K in SlipKind]: Omit<SlipOf<K>, 'span' | 'subject' | 'field'> }[SlipKind];

/** A scalar read, or the slip that says why not. */
export type Reading<T extends object> = ({ readonly ok: true } & T) | Refusal;

export interface Refusal {
  readonly ok: false;
  readonly slip: SlipDetails;
}

export const refuse = (slip: SlipDetails): Refusal => ({ ok: false, slip });

/**
 * The slip of a part of a scalar, told of the whole scalar: `whole` puts what surrounds the part around each text that
 * could be written instead.
 */
export const refuseWhole = (slip: SlipDetails, text: string, whole: (part: string) => string): Refusal => {
  switch (slip.kind) {
    case 'number-without-unit':
    case 'unit-unknown':
    case 'altitude-without-datum':
      return refuse({ ...slip, text, couldBe: slip.couldBe.map(whole) });
    case 'number-unreadable': {
      const { mended, alternatives, ...rest } = slip;
      return refuse({
        ...rest,
        text,
        ...(mended === undefined ? {} : { mended: whole(mended) }),
        ...(alternatives === undefined ? {} : { alternatives: alternatives.map(whole) }),
      });
    }
    case 'number-out-of-range':
      return refuse({ ...slip, text });
    default:
      return refuse(slip);
  }
};

/** One blank for each run of blanks, none at the ends. Copied text brings narrow and unbreakable blanks along. */
export const tidyBlanks = (text: string): string => text.trim().replace(/\s+/g, ' ');

export type { Slip };
