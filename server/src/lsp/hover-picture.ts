import type { FactTools } from '../facts/fact.ts';
import { breachesOf } from '../pictures/breaches.ts';
import { pictureOfLeg } from '../pictures/flight-pictures.ts';
import { legTo } from '../pictures/say-route.ts';
import type { Item } from '../plan/model.ts';
import type { Review } from '../review/outcome.ts';

/** A hover with more characters is cut off by the client, and the picture with it. */
const LONGEST = 40_000;

/** On paper of its own: a picture in a hover does not know the editor's theme. */
const PAPER = '<rect width="100%" height="100%" fill="#fff"/>';

/** Characters that an address in Markdown may hold as they are (RFC 3986), without the brackets that would end it. */
const encoded = (svg: string): string =>
  encodeURIComponent(svg).replace(/[()'!*]/g, (sign) => `%${sign.charCodeAt(0).toString(16).toUpperCase()}`);

/**
 * The height along the leg to an item as a picture in Markdown: an address that holds the picture itself. Undefined where
 * no leg leads there, or where the picture grew too large; the hover says the same in words.
 */
export const pictureFor = (item: Item, review: Review, tools: FactTools): string | undefined => {
  const leg = legTo(item, tools);
  if (leg === undefined) return undefined;
  const { markup } = pictureOfLeg(leg, breachesOf(review), tools);
  const svg = markup.replace(/^(<svg )([^>]*>)/, `$1color="#111" $2${PAPER}`);
  const address = `data:image/svg+xml;utf8,${encoded(svg)}`;
  return address.length > LONGEST ? undefined : `![the height along the leg, as told above in words](${address})`;
};
