import { courseBuffer, courseVolume, speedOn } from '../facts/course-volume.ts';
import { type FactTools, given, present } from '../facts/fact.ts';
import { greatestHeight } from '../facts/height-near-people.ts';
import { FOOT_POUND, fallSpeed, INJURY, kineticEnergy } from '../facts/impact-energy.ts';
import { orLacking } from '../facts/lacking.ts';
import type { Leg } from '../plan/model.ts';
import { sayMeasure } from '../rulebook/say-measure.ts';
import { sayNumber } from '../units/say.ts';
import { escapeMarkdown } from './markdown.ts';

const say = (value: number): string => sayMeasure({ value, unit: 'm' });

const sayEnergy = (joules: number): string => `${sayNumber(joules)} J (${sayNumber(joules / FOOT_POUND)} ft-lb)`;

const line = (name: string, derive: () => string): string => {
  const answer = orLacking(derive);
  return `${name}: ${'missing' in answer ? `not assessed: ${escapeMarkdown(answer.missing)}` : answer.known}`;
};

/** The volumes around a leg and what the aircraft would hit with, beside the figures of the law. */
export const tellHarm = (leg: Leg, tools: FactTools): readonly string[] => {
  const course = { subject: `leg ${leg.from.id.value} to ${leg.to.id.value}`, item: leg.to, leg };
  return [
    line('Contingency volume', () => {
      const volume = courseVolume(course, tools);
      return `${say(volume.beside)} to each side and ${say(volume.above)} upwards`;
    }),
    line('Ground risk buffer beyond it', () =>
      say(courseBuffer(courseVolume(course, tools), greatestHeight(course, tools), tools)),
    ),
    line('Energy', () => {
      const { mass, dragArea } = present(tools.world.aircraft);
      const kilograms = given(mass, 'the take-off mass of the aircraft').value;
      const height = greatestHeight(course, tools);
      const flown = kineticEnergy(kilograms, speedOn(course, tools));
      const fallen = kineticEnergy(kilograms, fallSpeed(height, kilograms, dragArea?.value));
      const figures = [INJURY['category 2'], INJURY['category 3'], INJURY.C1].map(({ said }) => said).join(', ');
      return `${sayEnergy(flown)} as flown, ${sayEnergy(fallen)} after a fall${dragArea === undefined ? ' without air resistance' : ''}; the figures of category 2, category 3 and class C1 (${figures}) are injuries by a rigid object and bound no flight`;
    }),
  ];
};
