import { defineConfig } from 'vitest/config';

// Journeys in Chromium against the program as built; one at a time, as the machine has
// two cores.
export default defineConfig({
  test: {
    include: ['e2e/**/*.test.ts'],
    globalSetup: 'e2e/setup.ts',
    fileParallelism: false,
    testTimeout: 60_000,
    hookTimeout: 90_000,
  },
});
