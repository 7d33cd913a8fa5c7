// The Spanish page: what has a stable name is Spanish, what stays English says so to who hears it.
import type { Page } from '@playwright/test';
import { expect, test } from './program';
import { openCircuit, type } from './steps';

/** Texts that look English and do not stand in anything marked as English. */
function unsaid(page: Page, within: string): Promise<string[]> {
  return page.locator(within).evaluate((side) =>
    [...side.querySelectorAll('*')]
      .filter((each) => [...each.childNodes].some((node) => node.nodeType === 3 && node.textContent?.trim()))
      .filter(
        (each) => / (the|of|and|is|to|at) /.test(each.textContent ?? '') && !each.closest('[lang="en"]'),
      )
      .map((each) => each.textContent?.trim() ?? ''),
  );
}

test.beforeEach(async ({ page }) => {
  await page.addInitScript(() => {
    localStorage.setItem('firstdraw-choices', JSON.stringify({ language: 'es' }));
  });
});

test('a circuit: cautions, tests, what is wrong and what to do', async ({ page, served }) => {
  await page.goto(`${served.address}/j/clinic/circuits`);
  await expect(page.getByRole('heading', { name: 'Circuitos' })).toBeVisible();
  await openCircuit(page, served.address, 'clinic', 'C01');
  await expect(page.getByText('Bloquee y compruebe la ausencia de tensión')).toBeVisible();
  const here = await type(page, 'insulation-resistance', 'on-receipt', '3');
  await expect(here.locator('[data-grade="fail"]')).toContainText('No energice. Abra y seque las conexiones');
  await expect(here.getByRole('button', { name: 'Signo menos – Temperatura del cable' })).toBeVisible();
  await expect(here.getByText('al menos 20 MΩ', { exact: true })).toBeVisible();
  await page.locator('details').evaluateAll((all) => {
    for (const each of all) (each as HTMLDetailsElement).open = true;
  });
  // The building's own names are in whatever language the job has them.
  const names = await page.locator('.fieldside header p').first().textContent();
  expect((await unsaid(page, '.fieldside')).filter((text) => text !== names?.trim())).toEqual([]);
});

test('findings: title and what to do, the figures in English beneath', async ({ page, served }) => {
  await page.goto(`${served.address}/j/clinic/findings`);
  const hot = page.locator('article', { hasText: 'El tramo queda caliente con el control común del grupo' });
  await expect(hot).toContainText('Dele un grupo propio');
  await expect(hot.locator('[lang="en"]').first()).toContainText('held at 130 °F');
  expect(await unsaid(page, '.page')).toEqual([]);
});
