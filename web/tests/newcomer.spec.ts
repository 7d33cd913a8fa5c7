// An empty job to a first result on the real page, by somebody who types like a person. Reading a step is not waited for
// but counted: ten seconds each.
import { expect, test } from './program';

const reading_s = 10;

test('from an empty job to a first result in under five minutes', async ({ page }) => {
  test.setTimeout(360_000);
  let steps = 0;
  const read = () => {
    steps += 1;
  };
  const begun = Date.now();
  await page.goto('/');
  await page.getByLabel('Name of the building').pressSequentially('Harbour Flats', { delay: 60 });
  await page.getByRole('button', { name: 'Begin' }).click();
  const guide = page.getByRole('region', { name: 'First steps to a result' });
  await expect(guide).toBeVisible();
  read();
  await guide.getByRole('button', { name: 'Next' }).click();
  read();
  await guide.getByLabel('How many levels in all').fill('4');
  await guide.getByRole('button', { name: 'Make the levels' }).click();
  await expect(page.getByRole('button', { name: /Level 4: show/ })).toBeVisible();
  read();
  const length = guide.getByLabel(/^Length/);
  await length.fill('18 ft');
  await length.press('Enter');
  await guide.getByRole('button', { name: 'Make the riser' }).click();
  await expect(guide.getByRole('button', { name: 'Make the taps' })).toBeVisible();
  read();
  await guide.getByLabel('Fixture').fill('lavatory');
  await guide.getByRole('button', { name: 'Make the taps' }).click();
  await expect(guide.getByRole('button', { name: 'Show the result' })).toBeVisible();
  read();
  await guide.getByRole('button', { name: 'Show the result' }).click();
  await expect(guide.getByText(/of cable, .* at work, [1-9]\d* circuits/)).toBeVisible();
  const seconds = (Date.now() - begun) / 1000 + steps * reading_s;
  console.log(`newcomer: ${seconds.toFixed(1)} s from the list of jobs to a first result`);
  expect(seconds).toBeLessThan(300);
  await expect(page.getByRole('option', { name: /^T-\d\d|^Tap T-\d\d/ })).toHaveCount(4);
});
