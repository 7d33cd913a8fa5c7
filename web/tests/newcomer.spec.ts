// An empty job to a first result on the real page, by somebody who reads each step and types like a person.
import { expect, test } from './program';

test('from an empty job to a first result in under five minutes', async ({ page }) => {
  test.setTimeout(360_000);
  const pause = () => page.waitForTimeout(1500); // reading a step
  const begun = Date.now();
  await page.goto('/');
  await page.getByLabel('Name of the building').pressSequentially('Harbour Flats', { delay: 60 });
  await page.getByRole('button', { name: 'Begin' }).click();
  const guide = page.getByRole('region', { name: 'First steps to a result' });
  await expect(guide).toBeVisible();
  await pause();
  await guide.getByRole('button', { name: 'Next' }).click();
  await pause();
  await guide.getByLabel('How many levels in all').fill('4');
  await guide.getByRole('button', { name: 'Make the levels' }).click();
  await expect(page.getByRole('button', { name: /Level 4: show/ })).toBeVisible();
  await pause();
  const length = guide.getByLabel(/^Length/);
  await length.fill('18 ft');
  await length.press('Enter');
  await guide.getByRole('button', { name: 'Make the riser' }).click();
  await expect(guide.getByRole('button', { name: 'Make the taps' })).toBeVisible();
  await pause();
  await guide.getByLabel('Fixture').fill('lavatory');
  await guide.getByRole('button', { name: 'Make the taps' }).click();
  await expect(guide.getByRole('button', { name: 'Show the result' })).toBeVisible();
  await pause();
  await guide.getByRole('button', { name: 'Show the result' }).click();
  await expect(guide.getByText(/of cable, .* at work, [1-9]\d* circuits/)).toBeVisible();
  const seconds = (Date.now() - begun) / 1000;
  console.log(`newcomer: ${seconds.toFixed(1)} s from the list of jobs to a first result`);
  expect(seconds).toBeLessThan(300);
  await expect(page.getByRole('option', { name: /^T-\d\d|^Tap T-\d\d/ })).toHaveCount(4);
});
