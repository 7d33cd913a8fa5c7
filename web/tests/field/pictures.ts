// The kept pictures of a phone at the example hotel: the circuits, a circuit with its verdict, the book.
import { fileURLToPath } from 'node:url';
import type { Page } from '@playwright/test';
import { expect, test } from './program';
import { entries, field, keep, openCircuit, type } from './steps';

const folder = fileURLToPath(new URL('../../../docs/images/', import.meta.url));

test.use({ deviceScaleFactor: 2 });

async function picture(page: Page, name: string): Promise<void> {
  await page.mouse.move(0, 0);
  await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
  await page.screenshot({ path: `${folder}${name}.png` });
}

async function insulation(page: Page, address: string, circuit: string, megohm: string): Promise<void> {
  await openCircuit(page, address, 'hotel', circuit);
  const here = await type(page, 'insulation-resistance', 'fixed', megohm);
  await here.getByRole('button', { name: /usually/ }).click();
  await expect(here.locator('[data-grade]')).toBeVisible();
}

test('pictures of the field side', async ({ page, served }) => {
  await openCircuit(page, served.address, 'hotel', 'C01');
  const first = await field(page, 'insulation-resistance', 'fixed');
  await first.getByRole('button', { name: /Instrument/ }).click();
  await first.getByLabel('Serial number').fill('IT-0042');
  await first.getByLabel('Calibration due').fill('2099-03-31');
  await first.getByRole('button', { name: 'Use this instrument' }).click();

  await insulation(page, served.address, 'C01', '1450');
  await expect(first.locator('[data-grade="pass"]')).toBeVisible();
  await first.evaluate((section) => section.scrollIntoView({ block: 'start' }));
  await picture(page, 'page-circuit');
  await keep(page);
  await expect(entries(page, 'on-record')).toHaveCount(1);

  await insulation(page, served.address, 'C02', '12');
  await keep(page);
  await expect(entries(page, 'on-record')).toHaveCount(1);
  await page.goto(`${served.address}/j/hotel/records`);
  await expect(page.locator('[data-record="2"]')).toBeVisible();
  await picture(page, 'page-records');

  await page.goto(`${served.address}/j/hotel/circuits`);
  await expect(page.locator('[data-ahead="true"]')).toBeVisible();
  await picture(page, 'page-circuits');
});
