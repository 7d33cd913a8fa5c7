// Makes the pictures of the field side that docs/ shows: `npx playwright test -c tests/field/pictures.config.ts`.
import { defineConfig } from '@playwright/test';
import base from '../../playwright.config';

export default defineConfig({
  ...base,
  testDir: '.',
  testMatch: 'pictures.ts',
  outputDir: '../../test-results',
});
