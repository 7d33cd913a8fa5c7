// More than one device: both see what is on record; one that lost its access loses nothing else.
import { book, expect, serve, test } from './program';
import { entries, introduce, keep, keepNote, openCircuit, type } from './steps';

test('two devices at one circuit see each other’s records', async ({ page, served, browser }) => {
  const second = await browser.newContext({ viewport: { width: 390, height: 844 } });
  const other = await second.newPage();
  await openCircuit(page, served.address, 'clinic', 'C01');
  await openCircuit(other, served.address, 'clinic', 'C01');
  await type(page, 'insulation-resistance', 'on-receipt', '1450');
  await keep(page);
  const there = other.locator('section[data-kind="insulation-resistance"][data-stage="on-receipt"]');
  await expect(there.getByText('No. 1', { exact: false })).toBeVisible();
  await type(other, 'insulation-resistance', 'fixed', '1300');
  await keep(other);
  const here = page.locator('section[data-kind="insulation-resistance"][data-stage="fixed"]');
  await expect(here.getByText('No. 2', { exact: false })).toBeAttached();
  await second.close();
  expect((await book(served.address, 'clinic')).map((record) => record.number)).toEqual([2, 1]);
});

test('a phone is paired, revoked, keeps what waits, and sends it when it is paired again', async ({
  page,
  browser,
}) => {
  const served = await serve({ lan: true });
  try {
    await page.goto(`${served.address}/devices`);
    const newCode = async () => {
      await page.getByRole('button', { name: 'Pair a device' }).click();
      await expect(page.locator('dd.code')).toBeVisible();
      return ((await page.locator('dd.code').textContent()) ?? '').replaceAll(/\D/g, '');
    };
    const phone = await (
      await browser.newContext({ viewport: { width: 390, height: 844 }, ignoreHTTPSErrors: true })
    ).newPage();
    const pair = async (code: string, name: string) => {
      await phone.goto(`${served.lan}/pair#${code}`);
      await expect(phone.getByLabel('Code')).toHaveValue(code);
      expect(new URL(phone.url()).hash).toBe('');
      await phone.getByLabel('Name of this device').fill(name);
      await phone.getByRole('button', { name: 'Pair', exact: true }).click();
      await expect(phone.getByRole('heading', { name: 'Pair this device' })).toHaveCount(0);
    };
    await phone.goto(`${served.lan}/c/clinic/C01`);
    await expect(phone.getByRole('heading', { name: 'Pair this device' })).toBeVisible();
    await pair(await newCode(), 'Phone of Ada');
    await openCircuit(phone, served.lan, 'clinic', 'C01');
    await introduce(phone);
    await keepNote(phone, 'first');
    await expect(entries(phone, 'on-record')).toHaveCount(1);

    page.on('dialog', (dialog) => void dialog.accept());
    await expect(page.locator('[data-device="Phone of Ada"]')).toBeVisible();
    await page.getByRole('button', { name: 'Revoke: Phone of Ada' }).click();
    await expect(page.locator('[data-device="Phone of Ada"]')).toHaveCount(0);
    await keepNote(phone, 'second');
    await expect(entries(phone, 'kept')).toContainText('not paired');
    await pair(await newCode(), 'Phone of Ada again');
    await openCircuit(phone, served.lan, 'clinic', 'C01');
    await expect(entries(phone, 'on-record')).toHaveCount(2);
    expect((await book(served.address, 'clinic')).map((record) => record.summary)).toEqual([
      'C01: second',
      'C01: first',
    ]);
  } finally {
    served.stop();
  }
});
