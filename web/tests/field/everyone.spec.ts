// Every screen of the field side, for everyone: axe-core in both themes, 320 px, Spanish, by keyboard.
import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { expect, test } from './program';
import { openCircuit, type } from './steps';

/** Every screen, and what stands on it when it is whole. */
const screens = {
  '/j/clinic/circuits': '[data-ahead="true"]',
  '/c/clinic/C01': '[data-kind]',
  '/j/clinic/records': '.fieldside li',
  '/devices': '.fieldside li',
  '/pair': '.fieldside form',
};
const rules = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
const gloveTargetPx = 44;

async function settled(page: Page, address: string, sign: string): Promise<void> {
  await page.goto(address);
  await expect(page.locator('.fieldside h1')).toBeVisible();
  await expect(page.locator(sign).first()).toBeAttached();
}

async function unfold(page: Page): Promise<void> {
  await page.locator('.fieldside details').evaluateAll((all) => {
    for (const each of all) (each as HTMLDetailsElement).open = true;
  });
}

async function wider(page: Page): Promise<number> {
  return page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
}

/** What a gloved thumb would miss, and what sticks out of its card. */
function hardToHit(page: Page): Promise<string[]> {
  return page.evaluate((least) => {
    const all = document.querySelectorAll<HTMLElement>(
      '.fieldside :is(a, button, summary, select, textarea, input:not(.hidden))',
    );
    return [...all]
      .map((each) => ({ each, box: (each.closest('label.row') ?? each).getBoundingClientRect() }))
      .filter(({ box }) => box.width > 0)
      .filter(({ each, box }) => {
        const card = each.closest('.card, .stage')?.getBoundingClientRect();
        const out = card && (box.right > card.right || box.left < card.left);
        return box.width < least || box.height < least || out;
      })
      .map(
        ({ each, box }) =>
          `${Math.round(box.width)}x${Math.round(box.height)} ${each.outerHTML.slice(0, 90)}`,
      );
  }, gloveTargetPx - 0.5);
}

test('axe-core finds nothing, in light and in dark', async ({ page, served }) => {
  for (const [screen, sign] of Object.entries(screens)) {
    await page.emulateMedia({ colorScheme: 'light' });
    await settled(page, served.address + screen, sign);
    if (screen.startsWith('/c/')) {
      await unfold(page);
      const here = await type(page, 'insulation-resistance', 'on-receipt', '3');
      await expect(here.locator('[data-grade="fail"]')).toBeVisible();
      await here.getByRole('button', { name: /Instrument/ }).click();
    }
    const axe = () => new AxeBuilder({ page: page as never }).include('#content');
    const light = await axe().withTags(rules).analyze();
    await page.emulateMedia({ colorScheme: 'dark' }); // changes colours and nothing else
    const dark = await axe().withRules(['color-contrast']).analyze();
    const found = [...light.violations, ...dark.violations];
    expect(found.map(({ id, nodes }) => `${screen} ${id}: ${nodes[0]?.html}`)).toEqual([]);
  }
});

test('at 320 px in both languages nothing is cut, and a glove hits every target', async ({
  page,
  served,
}) => {
  await page.setViewportSize({ width: 320, height: 640 });
  for (const language of ['en', 'es']) {
    await page.addInitScript((chosen) => {
      localStorage.setItem('firstdraw-choices', JSON.stringify({ language: chosen }));
    }, language);
    for (const [screen, sign] of Object.entries(screens)) {
      await settled(page, served.address + screen, sign);
      await unfold(page);
      if (screen.endsWith('/circuits')) await page.locator('.fieldside .button.main').click();
      expect(await wider(page), `${screen} ${language}`).toBeLessThanOrEqual(0);
      expect(await hardToHit(page), `${screen} ${language}`).toEqual([]);
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
