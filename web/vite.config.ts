import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

// emptyOutDir would take dist/README, which is committed; scripts/clean.mjs clears
// the rest before a build.
export default defineConfig({
  plugins: [svelte()],
  base: '/',
  test: { include: ['src/**/*.test.ts'] },
  build: {
    outDir: 'dist',
    emptyOutDir: false,
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
});
