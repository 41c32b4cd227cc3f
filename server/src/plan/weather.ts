import type { Span, Written } from '../text/span.ts';
import type { Celsius, Degrees, Metres, MetresPerSecond, Pascals } from '../units/frames.ts';
import type { Amount, DateOrTime, WrittenHeight, WrittenPosition } from './model.ts';

/** The weather of a plan: values by hand, and the texts of weather reports, which the host decodes. */
export interface PlanWeather {
  readonly span?: Span;
  readonly wind?: Wind;
  readonly visibility?: Amount<Metres>;
  /** The lowest cloud of any amount, or that there is none; above ground means above the take-off place. */
  readonly cloudBase?: WrittenHeight | Written<'none'>;
  /** Of the air at the take-off place. */
  readonly temperature?: Amount<Celsius>;
  /** Pressure reduced to mean sea level, as altimeters are set to it. */
  readonly qnh?: Amount<Pascals>;
  /** When the values by hand were seen, and by whom. */
  readonly seen?: Written<DateOrTime>;
  readonly by?: Written<string>;
  /** The text of a routine or special aerodrome report, and of an aerodrome forecast. */
  readonly metar?: Written<string>;
  readonly taf?: Written<string>;
  /** Files of such texts. */
  readonly reports?: readonly Written<string>[];
  /** Where the stations of the reports lie: no report says it. */
  readonly stations?: readonly WeatherStation[];
}

/** Wind as the trade gives it: the direction it blows FROM, clockwise from true north. */
export interface Wind {
  readonly span: Span;
  readonly from?: Amount<Degrees>;
  readonly speed?: Amount<MetresPerSecond>;
  readonly gust?: Amount<MetresPerSecond>;
}

export interface WeatherStation {
  readonly span: Span;
  /** The location indicator that its reports begin with. */
  readonly code?: Written<string>;
  readonly at?: WrittenPosition;
  /** Heights of clouds count from here. */
  readonly elevation?: Amount<Metres>;
}

export const isNoCloud = (base: WrittenHeight | Written<'none'>): base is Written<'none'> => base.value === 'none';
