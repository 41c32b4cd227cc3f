/**
 * The groups of weather reports, told apart by their form: WMO No. 306 (FM 15, FM 51) and FAA-H-8083-28 chapter 24, from
 * memory. A group of no known form is handed on as not understood, because the decoder leaves such groups out in silence.
 */
const WIND = /^(?:\d{3}|VRB|\/{3})(?:P?\d{2,3}|\/\/)(?:GP?\d{2,3})?(?:KT|MPS|KMH)$/;
const VARIATION = /^\d{3}V\d{3}$/;
const VISIBILITY = /^(?:CAVOK|\d{4}(?:NDV)?|[PM]?\d{1,2}SM|[PM]?(?:\d{1,2} )?\d{1,2}\/\d{1,2}SM|\/{4}(?:SM)?)$/;
const LEAST_VISIBILITY = /^\d{4}(?:N|NE|E|SE|S|SW|W|NW)$/;
const CLOUD =
  /^(?:(?:FEW|SCT|BKN|OVC|\/{3})(?:\d{3}|\/{3})(?:CB|TCU|TCU\/CB|\/{3})?|VV(?:\d{3}|\/{3})|SKC|CLR|NSC|NCD|\/{6}(?:CB|TCU)?)$/;
const TEMPERATURE = /^(?:M?\d{2}|\/\/)\/(?:M?\d{2}|\/\/)?$/;
const PRESSURE = /^[AQ](?:\d{4}|\/{4})$/;

const PRECIPITATION = 'DZ|RA|SN|SG|IC|PL|GR|GS|UP|BR|FG|FU|VA|DU|SA|HZ|PY|PO|SQ|FC|SS|DS';
const PRESENT_WEATHER = new RegExp(
  `^(?:RE)?(?:\\+|-|VC)?(?:MI|BC|PR|DR|BL|SH|TS|FZ)*(?:${PRECIPITATION})*(?:/(?:TS|SH|FZ)*(?:${PRECIPITATION}))*$`,
);
/** Runway range and state, wind shear, sea state, highest and lowest temperature, turbulence and icing, colours. */
const PASSED_OVER =
  /^(?:AUTO|COR|CC[A-Z]|NOSIG|NSW|\$|\/\/|R\d{2}[LCR]{0,2}\/\S+|R\d{2}[LCR]?|RWY\d{2}[LCR]?|WS|ALL|RWY|WS\d{3}\/\d{5}KT|W(?:\d{2}|\/\/)\/[SH]\S+|T[XN]M?\d{2}\/\d{4}Z|QNH\d{4}INS|[56][0-9X]\d{4}|(?:BLACK)?(?:BLU|WHT|GRN|YLO|AMB|RED)\+?)$/;

export type GroupKind =
  | 'wind'
  | 'variation'
  | 'visibility'
  | 'cloud'
  | 'temperature'
  | 'pressure'
  | 'passed over'
  | 'unread';

/** A proper fraction: `11/2SM` is `1 1/2SM` without its blank, or anything else, and the decoder takes it for 5.5. */
const isProper = (group: string): boolean => {
  const fraction = /(\d+)\/(\d+)/.exec(group);
  return fraction === null || Number(fraction[1]) < Number(fraction[2]);
};

export const kindOfGroup = (group: string): GroupKind => {
  if (WIND.test(group)) return 'wind';
  if (VARIATION.test(group)) return 'variation';
  if (TEMPERATURE.test(group)) return 'temperature';
  if (VISIBILITY.test(group)) return isProper(group) ? 'visibility' : 'unread';
  if (LEAST_VISIBILITY.test(group)) return 'visibility';
  if (CLOUD.test(group)) return 'cloud';
  if (PRESSURE.test(group)) return 'pressure';
  return PASSED_OVER.test(group) || PRESENT_WEATHER.test(group) ? 'passed over' : 'unread';
};

/** The groups of a text; a whole mile and its fraction, `1 1/2SM`, are one. */
export const groupsOf = (text: string): readonly string[] => {
  const groups: string[] = [];
  for (const token of text.split(' ').filter((each) => each !== '')) {
    const last = groups[groups.length - 1];
    if (last !== undefined && /^[PM]?\d{1,2}$/.test(last) && /^\d\/\d{1,2}SM$/.test(token)) {
      groups[groups.length - 1] = `${last} ${token}`;
    } else groups.push(token);
  }
  return groups;
};

/** What a group that was not understood most likely speaks of. */
export const likelyKind = (group: string): 'wind' | 'visibility' | 'cloud' | undefined => {
  if (/^(?:\d{3}|VRB)\d{2,3}(?:G|$)/.test(group)) return 'wind';
  if (/SM$|^\d{4}/.test(group)) return 'visibility';
  return /^(?:FEW|SCT|BKN|OVC|VV)/.test(group) ? 'cloud' : undefined;
};
