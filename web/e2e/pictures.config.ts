import { defineConfig } from 'vitest/config';

// Takes the pictures of docs/page.md: npm run pictures.
export default defineConfig({
  test: { include: ['e2e/pictures.ts'], testTimeout: 240_000, hookTimeout: 90_000 },
});
