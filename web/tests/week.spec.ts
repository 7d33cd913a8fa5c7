import { choose, onDisk, riser } from './desk';
import { expect, test } from './program';

test('a week is simulated with its progress in numbers, scrubbed and charted', async ({ page }) => {
  await page.goto('/j/clinic/week');
  await page.getByRole('button', { name: 'Simulate a week' }).click();
  const moment = page.getByRole('slider', { name: 'Moment of the week' });
  await expect(moment).toBeVisible({ timeout: 90_000 });
  await expect(page.getByRole('progressbar')).toHaveCount(0, { timeout: 90_000 });
  await expect(moment).toHaveAttribute('aria-valuetext', 'Mon 00:00');
  await moment.focus();
  await page.keyboard.press('End'); // the Monday after
  await page.keyboard.press('ArrowLeft');
  await expect(moment).toHaveAttribute('aria-valuetext', /^Sun 2\d:/);
  await expect(page.getByRole('img', { name: 'Water temperature' })).toBeVisible();
});

test('a week is seen while it is simulated, and can be stopped', async ({ page }) => {
  await page.goto('/j/hotel/week');
  await page.getByRole('button', { name: 'Simulate a week' }).click();
  const bar = page.getByRole('progressbar');
  await expect(page.getByText(/^Simulated up to/)).toBeVisible();
  await expect(page.getByRole('slider', { name: 'Moment of the week' })).toBeVisible();
  await expect(bar).toBeVisible();
  await expect(page.getByText(/^\d+ % · \d+ s · /)).toBeVisible();
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  await expect(bar).toHaveCount(0);
  await expect(page.getByRole('button', { name: 'Simulate a week' })).toBeVisible();
  await expect(page.getByRole('slider', { name: 'Moment of the week' })).toBeVisible();
});

test('a schedule shows what it costs while it moves, and is saved as periods', async ({ page, served }) => {
  await page.goto('/j/clinic/week');
  await expect(page.getByText('Cost a week')).toBeVisible();
  await expect(page.getByText('$0.15 a kWh at all hours')).toBeVisible();
  await expect(page.getByRole('heading', { name: 'Comfort: kept' })).toBeVisible();
  const before = onDisk(served, 'clinic', 'job.toml');
  await page.getByRole('button', { name: 'Add a period' }).click();
  const end = page.getByRole('slider', { name: /^From/ }).last();
  await end.focus();
  const asked = page.waitForResponse((response) => response.url().endsWith('/schedule') && response.ok());
  await page.keyboard.press('ArrowRight');
  await asked;
  await expect(end).toHaveAttribute('aria-valuetext', '22:30');
  const hold = page.getByLabel('Hold');
  await hold.fill('off');
  await hold.press('Enter');
  await expect(page.getByRole('heading', { name: 'Hygiene: not kept' })).toBeVisible();
  expect(onDisk(served, 'clinic', 'job.toml')).toBe(before);
  await page.getByRole('button', { name: 'Save the schedule' }).click();
  await expect.poll(() => onDisk(served, 'clinic', 'job.toml')).toContain('22:30');
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(() => onDisk(served, 'clinic', 'job.toml')).toBe(before);
});

test('findings lead to their place, and the pack is made and downloaded', async ({ page }) => {
  await page.goto('/j/hotel/findings');
  const link = page.getByRole('article').getByRole('link').first();
  await link.click();
  await expect(riser(page).getByRole('option', { selected: true })).toHaveCount(1);
  await page.goto('/j/clinic/hand-over');
  await page.getByRole('button', { name: 'Make the pack' }).click();
  const all = page.getByRole('link', { name: /Download all/ });
  await expect(all).toBeVisible({ timeout: 110_000 });
  const [file] = await Promise.all([page.waitForEvent('download'), all.click()]);
  expect(file.suggestedFilename()).toMatch(/\.zip$/);
});

test('printed pages carry no controls, are light and lie on one sheet', async ({ page }) => {
  await choose(page, { theme: 'dark', language: 'en', units: 'job' });
  await page.goto('/j/hotel');
  await expect(page.getByRole('listbox')).toBeVisible();
  await page.emulateMedia({ media: 'print' });
  await expect(page.getByRole('banner')).toBeHidden();
  await expect(page.getByRole('radiogroup')).toBeHidden();
  await expect(page.getByRole('region', { name: 'Legend' })).toBeVisible();
  await expect(page.locator('body')).toHaveCSS('background-color', 'rgb(255, 255, 255)');
  for (const format of ['Letter', 'A4']) {
    const pdf = (await page.pdf({ format, preferCSSPageSize: true })).toString('latin1');
    expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
  }
});
