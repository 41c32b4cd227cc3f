import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'item',
  title: 'something is let fall in the open category',
  question: 'Which rules apply?',
  level: { 'eu-open': 'stop' },
  basis: 'law',
  why: 'The open category needs no authorisation because it leaves out what would need one. Letting things fall is one of these.',
  condition: 'No point of the route has a `drop`.',
  mend: 'Take the drop out, or fly in the specific category with an operational authorisation.',
  sources: [{ cite: '(EU) 2019/947 Art. 4(1)(f)', edition: '2021', trust: 'secondary copy' }],
  needs: [],
  example: {
    faulty:
      'country: FR\nroute:\n  - take-off: home\n  - point: east-bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n    drop: { what: seed pod }\n  - land: home\n',
    sound: 'country: FR\n',
  },

  *check(item) {
    if (item.drop === undefined) return;
    const thing = item.drop.what?.value ?? 'something';
    yield {
      found: {
        at: item.drop.what?.span ?? item.id.span,
        subject: `point ${item.id.value}`,
        message: `point ${item.id.value} lets "${thing}" fall; (EU) 2019/947 Art. 4(1)(f) allows no dropping of material in the open category`,
      },
    };
  },
});
