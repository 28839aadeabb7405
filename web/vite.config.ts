import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

// The built files go into the Python package; the server's address for `npm run dev` is the studio's own.
export default defineConfig({
  plugins: [svelte()],
  ...(process.env['VITEST'] ? { resolve: { conditions: ['browser'] } } : {}),
  base: '/',
  build: {
    outDir: '../src/polestitch/studio/static',
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0, // a strict CSP allows no data: addresses for scripts, and fonts stay cacheable
    modulePreload: { polyfill: false },
  },
  server: { proxy: { '/api': process.env['POLESTITCH_STUDIO'] ?? 'http://127.0.0.1:8765' } },
  // Effects run in the page alone: a test of them is read as the page is, into node's plain environment.
  test: { include: ['src/**/*.test.ts'], environment: 'node', testTransformMode: { web: ['**/*.svelte.test.ts'] } },
});
