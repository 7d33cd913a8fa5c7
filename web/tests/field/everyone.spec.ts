// Every screen of the field side, for everyone: axe-core in both themes, 320 px, Spanish, by keyboard.
import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { expect, test } from './program';
import { openCircuit, type } from './steps';

const screens = ['/j/clinic/circuits', '/c/clinic/C01', '/j/clinic/records', '/devices', '/pair'];
const rules = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

async function settled(page: Page, address: string): Promise<void> {
  await page.goto(address);
  await expect(page.locator('.fieldside h1')).toBeVisible();
  await page.waitForLoadState('networkidle', { timeout: 3000 }).catch(() => undefined);
}

async function wider(page: Page): Promise<number> {
  return page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
}

for (const theme of ['light', 'dark'] as const) {
  test(`axe-core finds nothing, ${theme}`, async ({ page, served }) => {
    await page.emulateMedia({ colorScheme: theme });
    for (const screen of screens) {
      await settled(page, served.address + screen);
      if (screen.startsWith('/c/')) {
        await page.locator('details').evaluateAll((all) => {
          for (const each of all) (each as HTMLDetailsElement).open = true;
        });
        const here = await type(page, 'insulation-resistance', 'on-receipt', '3');
        await expect(here.locator('[data-grade="fail"]')).toBeVisible();
      }
      const found = await new AxeBuilder({ page: page as never })
        .withTags(rules)
        .include('#content')
        .analyze();
      expect(found.violations.map(({ id, nodes }) => `${screen} ${id}: ${nodes[0]?.html}`)).toEqual([]);
    }
  });
}

test('nothing is wider than 320 px, in both languages', async ({ page, served }) => {
  await page.setViewportSize({ width: 320, height: 640 });
  for (const language of ['en', 'es']) {
    await page.addInitScript((chosen) => {
      localStorage.setItem('firstdraw-choices', JSON.stringify({ language: chosen }));
    }, language);
    for (const screen of screens) {
      await settled(page, served.address + screen);
      await page.locator('details').evaluateAll((all) => {
        for (const each of all) (each as HTMLDetailsElement).open = true;
      });
      expect(await wider(page), `${screen} ${language}`).toBeLessThanOrEqual(0);
    }
  }
});

test('a reading is typed and kept with the keyboard alone', async ({ page, served }) => {
  await openCircuit(page, served.address, 'clinic', 'C01');
  const here = page.locator('section[data-kind="insulation-resistance"] input.value').first();
  for (let i = 0; i < 60 && !(await here.evaluate((field) => field === document.activeElement)); ++i)
    await page.keyboard.press('Tab');
  await page.keyboard.type('1450');
  await expect(page.locator('[data-grade]').first()).toBeVisible();
  const keep = page.locator('.bar button.main');
  for (let i = 0; i < 80 && !(await keep.evaluate((button) => button === document.activeElement)); ++i)
    await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  await expect(page.locator('.bar').getByLabel('Your name')).toBeVisible();
});
