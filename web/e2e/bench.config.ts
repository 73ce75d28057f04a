import { defineConfig } from 'vitest/config';

// Measures what a drag costs in the browser: npm run bench.
export default defineConfig({
  test: { include: ['e2e/moves.ts'], testTimeout: 170_000, hookTimeout: 170_000 },
});
