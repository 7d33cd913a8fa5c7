import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vite';
import { serviceWorker } from './src/phone/build_worker';

// `npm run dev` shows the page while `firstdraw serve --no-open` answers it.
const server = process.env['FIRSTDRAW_SERVER'] ?? 'http://127.0.0.1:8450';

export default defineConfig({
  plugins: [svelte(), serviceWorker()],
  build: { target: 'es2022', outDir: 'dist', assetsInlineLimit: 0 },
  server: { proxy: { '/api': { target: server, headers: { origin: server } }, '/openapi.json': server } },
});
