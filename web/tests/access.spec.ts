// WCAG 2.2 A and AA by axe on every part, in both themes, in English and Spanish, from 320 px to 4K.
import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { choose } from './desk';
import { expect, test } from './program';

// They change nothing: whichever worker is free takes the next.
test.describe.configure({ mode: 'parallel' });

const parts = [
  '/',
  '/j/clinic',
  '/j/clinic/tables',
  '/j/clinic/week',
  '/j/clinic/findings',
  '/j/clinic/hand-over',
  '/j/no-such-job',
];
const sizes = [
  { width: 320, height: 640, theme: 'light', language: 'es' },
  { width: 1366, height: 768, theme: 'dark', language: 'en' },
  { width: 3840, height: 2160, theme: 'light', language: 'en' },
];

async function faultsOf(page: Page): Promise<{ id: string; where: unknown[] }[]> {
  // The checker's types come from another version of the same library.
  const found = await new AxeBuilder({ page: page as never })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
    .analyze();
  return found.violations.map(({ id, nodes }) => ({
    id,
    where: nodes.slice(0, 3).map((node) => node.target),
  }));
}

for (const { width, height, theme, language } of sizes)
  test(`every part at ${width} px, ${theme}, ${language}`, async ({ page }) => {
    await page.setViewportSize({ width, height });
    await choose(page, { theme, language, units: 'job' });
    for (const part of parts)
      await test.step(part, async () => {
        await page.goto(part);
        await expect(page.getByRole('heading', { level: 1 })).toBeAttached();
        await expect(page.getByText(/^(Loading|Cargando)/)).toHaveCount(0);
        expect.soft(await faultsOf(page), part).toEqual([]);
        const wide = await page.evaluate(
          () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
        );
        expect.soft(wide, `${part} is wider than its window`).toBeLessThanOrEqual(0);
      });
  });
