import { defineConfig } from 'vitest/config';

// Journeys in Chromium against the program as built; two files at a time, as a journey
// mostly waits for either the page or the program. A journey that fails is tried once
// more; the report says which.
export default defineConfig({
  test: {
    include: ['e2e/**/*.test.ts'],
    globalSetup: 'e2e/setup.ts',
    maxWorkers: 2,
    retry: 1,
    testTimeout: 60_000,
    hookTimeout: 90_000,
  },
});
