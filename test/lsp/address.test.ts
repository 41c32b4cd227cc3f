import { expect, test } from 'vitest';
import { isAddress, plainAddress, resolveAddress } from '../../server/src/lsp/address.ts';

test.each([
  ['memfs:/a/b.yaml', 'memfs:///a/b.yaml'],
  ['memfs:///a/./c/../b.yaml', 'memfs:///a/b.yaml'],
  ['vscode-vfs://github/our%20house/b.yaml', 'vscode-vfs://github/our%20house/b.yaml'],
  ['vscode-vfs://github/our house/b.yaml#L1', 'vscode-vfs://github/our%20house/b.yaml'],
  ['memfs:/50%/b.yaml', 'memfs:///50%25/b.yaml'],
  ['untitled:Untitled-1', 'untitled:///Untitled-1'],
])('%s is written %s', (written, plain) => {
  expect(plainAddress(written)).toBe(plain);
  expect(plainAddress(plain)).toBe(plain);
});

test.each([
  ['memfs:///lake/plans/a.mission.yaml', '../world/z.geojson', 'memfs:///lake/world/z.geojson'],
  ['memfs:///lake/plans/a.mission.yaml', '.', 'memfs:///lake/plans'],
  // A percent sign in a reference is a character of the file's name, never a code.
  ['memfs:///lake/a.mission.yaml', 'our %2e%2e/z.geojson', 'memfs:///lake/our%20%252e%252e/z.geojson'],
  ['memfs:///a.mission.yaml', '../../../z', 'memfs:///z'],
  ['memfs:///lake/.', '..', 'memfs:///'],
  ['memfs:////.', '..', 'memfs:///'],
])('from %s the reference %s leads to %s', (from, reference, to) => {
  expect(resolveAddress(from, reference)).toBe(to);
});

test('paths of a disk are no addresses, with or without a drive letter', () => {
  expect(['/a/b.yaml', 'C:\\plans\\b.yaml', 'c:/plans/b.yaml', 'b.yaml'].filter(isAddress)).toEqual([]);
  expect(isAddress('memfs:///b.yaml')).toBe(true);
});
