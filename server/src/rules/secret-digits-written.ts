import { holdsSecret, withoutSecret } from '../facts/operator-number.ts';
import { defineRule } from '../rulebook/rule.ts';
import { isMissing } from '../world/world.ts';

export default defineRule({
  visits: 'plan',
  title: 'an aircraft file holds the secret digits of the operator’s number',
  question: 'What papers?',
  level: 'note',
  basis: 'practice',
  why: 'The three characters after the hyphen prove that a number was entered by its owner. Whoever reads them in a shared file can fly under that number.',
  condition:
    'The number of the registration ends after its sixteenth character. Nothing that this tool writes shows what follows.',
  mend: 'Delete the hyphen and the three characters after it. If the file was shared, ask the registry for new ones.',
  sources: [{ cite: 'AMC1 to Article 14(8) of (EU) 2019/947', edition: '2026', trust: 'secondary copy' }],
  needs: ['aircraft'],
  example: {
    faulty: '',
    sound: '',
    world:
      'aircraft: |\n  aircraft: 1\n  name: bittern-2\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 1.4 kg\n  size: 0.5 m\n  registration: { number: FIN87astrdge12k8-xyz, expires: 2028-03-31 }\n  remote-identification: { means: standard, serial: WAYW8BT000002 }\n',
  },

  *check(plan, { world }) {
    const number = isMissing(world.aircraft) ? undefined : world.aircraft.registration?.number;
    if (number === undefined || plan.aircraft === undefined || !holdsSecret(number.value)) return;
    yield {
      found: {
        at: plan.aircraft.span,
        subject: 'the aircraft',
        message: `the aircraft file holds the secret digits that belong to "${withoutSecret(number.value)}"; AMC1 to Article 14(8) of (EU) 2019/947 lets the first sixteen characters be shown`,
        related: [{ at: number.span, message: 'the secret digits stand here' }],
      },
    };
  },
});
