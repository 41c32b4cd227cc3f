import { join } from 'node:path';
import { expect, test } from 'vitest';
import { generateValidators } from './support/validators.ts';

test('the validators are those that the schemas give', async () => {
  for (const [path, text] of await generateValidators()) {
    await expect(text).toMatchFileSnapshot(join(import.meta.dirname, '..', path));
  }
});

test('the validators need nothing at run time', async () => {
  for (const text of (await generateValidators()).values()) {
    expect(text).not.toMatch(/\brequire\(|^\s*import\b/m);
  }
});
