import { boxAround, growBox } from '../geo/box.ts';
import type { Flight } from '../plan/model.ts';
import { type Metres, metres } from '../units/frames.ts';
import type { Airspace } from '../world/world.ts';
import { areaShape } from './area-shape.ts';
import { type FactTools, present } from './fact.ts';
import { itemPlace } from './item-place.ts';
import { pathOfLeg } from './leg-path.ts';
import { entriesAtItem } from './volume-zones.ts';
import { entriesOnLeg } from './zone-entries.ts';
import { type FlightZones, flightZones, visitsOf } from './zone-visits.ts';

/** Zones that a flight does not enter, but passes within a distance over the ground, at its own heights. */
export const zonesBeside = (flight: Flight, beside: Metres, tools: FactTools): FlightZones => {
  const airspace = present(tools.world.airspace);
  const entered = new Set(tools.ask(flightZones, flight).zones.map(({ zone }) => zone.layerOf ?? zone));
  const others: Pick<Airspace, 'zonesIn'> = {
    zonesIn: (box) =>
      airspace.zonesIn(box).filter((zone) => !entered.has(zone.layerOf ?? zone) && zone.kind !== 'cell'),
  };
  const around = { beside, above: metres(0) };
  return visitsOf(
    flight,
    {
      onLeg: (leg) => {
        const path = tools.ask(pathOfLeg, leg);
        const box = boxAround([path.from, path.at(path.length / 2), path.to]);
        if (box === undefined || others.zonesIn(growBox(box, beside + path.length / 2)).length === 0)
          return { entries: [], lacking: [] };
        return entriesOnLeg(leg, others, tools, around);
      },
      atItem: (item) => {
        const ring = item.kind === 'area' ? tools.ask(areaShape, item).ring : [tools.ask(itemPlace, item)];
        const box = boxAround(ring);
        if (box === undefined || others.zonesIn(growBox(box, beside + 1)).length === 0)
          return { entries: [], lacking: [] };
        return entriesAtItem(item, others, tools, around);
      },
    },
    tools,
  );
};
