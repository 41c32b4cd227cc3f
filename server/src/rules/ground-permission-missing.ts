import { requireRead } from '../facts/unread.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'the plan does not say that the owner of the ground agrees',
  question: 'What papers?',
  level: 'note',
  basis: 'practice',
  why: 'Aviation law does not settle who may stand on a piece of ground and start from it. Many parks, shores and yards need leave of whoever owns or minds them, and finding that out in the field ends the flight.',
  condition: 'The plan has `site: { permission: ... }` with who gave it and when.',
  exceptions: 'Whether leave is needed is local law and differs from place to place.',
  mend: 'Ask, and write `permission: { of: shore owner, given: DATE }` under `site`; accept this where no leave is needed.',
  sources: [{ cite: 'leave of the ground owner', edition: '1', trust: 'common practice, no source' }],
  ask: { whom: 'whoever owns or minds the ground', kind: 'ground' },
  needs: [],
  example: {
    faulty: 'site: { take-off: { lat: 47.5, lon: -120.5, elevation: 400 m } }\n',
    sound:
      'site: { take-off: { lat: 47.5, lon: -120.5, elevation: 400 m }, permission: { of: shore owner, given: 2026-06-02 } }\n',
  },

  *check({ site, slips, routeSpan }) {
    if (site.permission !== undefined || routeSpan === undefined) return;
    requireRead(slips, 'site permission');
    yield {
      found: {
        at: site.takeOff?.span ?? site.span ?? routeSpan,
        subject: 'the ground owner',
        message:
          'the plan names no permission of the owner of the ground; whether one is needed is set by local law, and asking for it is common practice',
      },
    };
  },
});
