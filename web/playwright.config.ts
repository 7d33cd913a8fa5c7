// Tests of the page against the real program, started by tests/program.ts on a copy of the examples.
import { defineConfig } from '@playwright/test';

export default defineConfig({
  testDir: 'tests',
  testMatch: '**/*.spec.ts',
  timeout: 120_000,
  expect: { timeout: 20_000 },
  // Each has a program of its own.
  workers: Number(process.env.FIRSTDRAW_WORKERS ?? 2),
  // A starved machine may make a browser miss a moment; what passes only then is reported as flaky.
  retries: Number(process.env.FIRSTDRAW_RETRIES ?? 0),
  reporter: [['list']],
  use: {
    viewport: { width: 1366, height: 768 },
    locale: 'en-US',
    actionTimeout: 20_000,
    launchOptions: {
      executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
      args: [
        '--no-sandbox',
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    },
  },
});
