// What goes wrong: a paste that does not fit, a server that is away, a link that only shows.
import { fill, rowOnDisk } from './desk';
import { expect, serve, test } from './program';

test('a paste that does not fit names its cells, in Spanish too, and writes nothing', async ({
  page,
  served,
}) => {
  await page.addInitScript(() => localStorage.setItem('firstdraw-choices', '{"language":"es"}'));
  const before = rowOnDisk(served, 'clinic', 'outlets.csv', 'O-02');
  await page.goto('/j/clinic/tables#outlets');
  await page.getByRole('gridcell', { name: 'O-02', exact: true }).click();
  await page.evaluate(() => {
    const data = new DataTransfer();
    data.setData('text/plain', 'O-02\tB2\tlavatory\tmany');
    document.activeElement?.dispatchEvent(
      new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }),
    );
  });
  const told = page.getByRole('status').filter({ hasText: 'No se escribió nada' });
  await expect(told).toContainText('grifo O-02 · Cantidad: «many» no es un número sin más');
  await expect(told.locator('[lang="en"]')).toHaveCount(0);
  const row = page
    .getByRole('row')
    .filter({ has: page.getByRole('gridcell', { name: 'O-02', exact: true }) });
  const wrong = row.locator('td[aria-invalid="true"]');
  await expect(wrong).toHaveText(['2']);
  expect(rowOnDisk(served, 'clinic', 'outlets.csv', 'O-02')).toBe(before);
});

test('what is typed while the server is away stays, and is saved when it is back', async ({ page }) => {
  const served = await serve();
  try {
    await page.goto(`${served.address}/j/clinic#run=R-04`);
    await expect(page.getByRole('heading', { name: /R-04$/ })).toBeVisible();
    await served.kill();
    await expect(page.getByText('No connection to the server.')).toBeVisible();
    await fill(page, 'Length', '30 ft');
    const field = page.getByRole('complementary').getByLabel('Length').first();
    await expect(page.getByRole('complementary').getByRole('alert')).toContainText(
      'The server does not answer',
    );
    await expect(field).toHaveValue('30 ft');
    await served.again();
    await expect.poll(() => rowOnDisk(served, 'clinic', 'runs.csv', 'R-04')).toContain(',30 ft,');
    await expect(page.getByRole('complementary').getByRole('alert')).toHaveCount(0);
  } finally {
    served.stop();
  }
});

test('a link shows the job and nothing to write; another job is said to be another', async ({
  page,
  browser,
}) => {
  const served = await serve({ lan: true });
  try {
    await page.goto(`${served.address}/j/clinic/hand-over`);
    await page.getByLabel('For whom').fill('Inspector');
    await page.getByRole('button', { name: 'Make a link' }).click();
    const link = await page.getByLabel('Address of the link').inputValue();
    const guest = await (await browser.newContext({ ignoreHTTPSErrors: true })).newPage();
    await guest.goto(link);
    await expect(guest.getByRole('listbox', { name: /drawing/i })).toBeVisible();
    await guest.goto(`${served.lan}/j/clinic/tables`);
    await expect(guest.getByText('Read-only')).toBeVisible();
    await expect(guest.getByRole('button', { name: 'Add a row' })).toHaveCount(0);
    await guest.goto(`${served.lan}/j/clinic/week`);
    await expect(guest.getByRole('heading', { name: 'Schedule of a group' })).toBeVisible();
    await expect(guest.getByText('this link only shows')).toHaveCount(0);
    await guest.goto(`${served.lan}/c/clinic/C01`);
    await expect(guest.getByText('To record a test, use a paired device')).toBeVisible();
    await expect(guest.locator('input.value')).toHaveCount(0);
    await guest.goto(`${served.lan}/j/hotel`);
    await expect(guest.getByRole('heading', { name: 'This link shows another job' })).toBeVisible();
    await guest.getByRole('link', { name: 'To the job of the link' }).click();
    await expect(guest.getByRole('listbox', { name: /drawing/i })).toBeVisible();
  } finally {
    served.stop();
  }
});
