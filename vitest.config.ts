import { defineConfig } from 'vitest/config';

// CI names a file for the machine-readable report; people read the usual one.
const report = process.env['WAYWARDEN_TEST_REPORT'];

export default defineConfig({
  define: { WAYWARDEN_VERSION: JSON.stringify('0.1.0-test') },
  test: {
    include: ['test/**/*.test.ts'],
    exclude: ['test/editor/**', 'test/bench/**'],
    testTimeout: 120_000,
    reporters: report === undefined ? ['default'] : ['default', ['json', { outputFile: report }]],
  },
});
