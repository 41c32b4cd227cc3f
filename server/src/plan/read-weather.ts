import type { Written } from '../text/span.ts';
import {
  amountOf,
  asSection,
  dateOrTimeOf,
  elevationOf,
  heightOf,
  listOf,
  positionOf,
  present,
  type Section,
  sectionOf,
  textOf,
  textsOf,
} from './fields.ts';
import type { WrittenHeight } from './model.ts';
import { entryOf } from './shape-errors.ts';
import type { PlanWeather, WeatherStation, Wind } from './weather.ts';

export const readWeather = (section: Section | undefined): PlanWeather => {
  const wind = sectionOf(section, 'wind');
  return present<PlanWeather>({
    span: section?.node.span,
    wind:
      wind &&
      present<Wind>({
        span: wind.node.span,
        from: amountOf(wind, 'from', 'angle'),
        speed: amountOf(wind, 'speed', 'speed'),
        gust: amountOf(wind, 'gust', 'speed'),
      }),
    visibility: amountOf(section, 'visibility', 'length'),
    cloudBase: readCloudBase(section),
    temperature: amountOf(section, 'temperature', 'temperature'),
    qnh: amountOf(section, 'qnh', 'pressure'),
    seen: dateOrTimeOf(section, 'seen'),
    by: textOf(section, 'by'),
    metar: textOf(section, 'metar'),
    taf: textOf(section, 'taf'),
    reports: textsOf(section, 'reports'),
    stations: listOf(section, 'stations').flatMap((field) => {
      const station = asSection(field);
      return station === undefined ? [] : [readStation(station)];
    }),
  });
};

/** `none`, or a height with its datum. */
const readCloudBase = (section: Section | undefined): WrittenHeight | Written<'none'> | undefined => {
  const value = section && entryOf(section.node, 'cloud-base')?.value;
  if (value?.kind === 'scalar' && value.text.trim().toLowerCase() === 'none')
    return { value: 'none', span: value.span };
  return heightOf(section, 'cloud-base');
};

const readStation = (section: Section): WeatherStation =>
  present<WeatherStation>({
    span: section.node.span,
    code: textOf(section, 'code'),
    at: positionOf(section, 'at'),
    elevation: elevationOf(section, 'elevation'),
  });
