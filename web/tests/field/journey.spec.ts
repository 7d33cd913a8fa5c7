// A circuit is tested with the phone: typed, judged, kept, corrected, photographed, signed.
import { readFileSync } from 'node:fs';
import { renderSVG } from 'uqr';
import { book, expect, test } from './program';
import { entries, field, introduce, keep, openCircuit, technician, type } from './steps';

const picture = readFileSync(new URL('../../public/icon-512.png', import.meta.url));

test('a reading is judged while it is typed, and goes on record', async ({ page, served }) => {
  await openCircuit(page, served.address, 'clinic', 'C01');
  const here = await type(page, 'insulation-resistance', 'on-receipt', '3');
  await expect(here.locator('[data-grade="fail"]')).toContainText('Do next');
  await here.locator('input.value').fill('1450');
  await expect(here.locator('[data-grade]')).toHaveAttribute('data-grade', 'doubt'); // no test voltage yet
  await here.getByRole('button', { name: /usually 1000/ }).click();
  await expect(here.locator('[data-grade]')).toHaveAttribute('data-grade', 'pass');
  await here.getByRole('button', { name: /Instrument/ }).click();
  await here.getByLabel('Serial number').fill('IT-0042');
  await here.getByRole('button', { name: 'Use this instrument' }).click();
  await keep(page);
  await expect(entries(page, 'on-record')).toHaveCount(1);
  await expect(here.getByText('1450', { exact: false }).first()).toBeVisible();
  await expect(here.getByRole('button', { name: 'Measure again' })).toBeVisible();

  const [record] = await book(served.address, 'clinic');
  expect(record).toMatchObject({ kind: 'test', who: technician, circuits: ['C01'] });
  expect(record?.readings[0]?.reading).toMatchObject({
    what: 'insulation-resistance',
    stage: 'on-receipt',
    serial: 'IT-0042',
  });
  expect(record?.readings[0]?.verdict.grade).toBe('pass');
});

test('the end of a range and a decimal comma are understood, and nonsense is said at once', async ({
  page,
  served,
}) => {
  await openCircuit(page, served.address, 'clinic', 'C01');
  const here = await type(page, 'insulation-resistance', 'on-receipt', '2000');
  await here.getByRole('button', { name: /More than/ }).click();
  await here.getByRole('button', { name: /usually 1000/ }).click();
  await expect(here.locator('[data-grade="pass"]')).toBeVisible();
  const other = await type(page, 'current', 'energised', '4,2');
  await expect(other.locator('[data-grade]')).toBeVisible();
  await other.locator('input.value').fill('4..2');
  await expect(other.getByText('This cannot be read')).toBeVisible();
  await expect(page.locator('.bar button.main')).toBeDisabled();
});

test('below zero without a minus sign on the number pad', async ({ page, served }) => {
  await openCircuit(page, served.address, 'clinic', 'C01');
  const here = await type(page, 'insulation-resistance', 'on-receipt', '1450');
  const minus = here.getByRole('button', { name: 'Minus sign – Cable temperature' });
  const cable = here.getByLabel(/^Cable temperature/);
  expect((await minus.boundingBox())?.height).toBeGreaterThanOrEqual(44);
  await minus.click();
  await expect(cable).toBeFocused();
  await page.keyboard.type('5');
  await expect(cable).toHaveValue('-5');
  await expect(minus).toHaveAttribute('aria-pressed', 'true');
  await minus.click();
  await expect(cable).toHaveValue('5');
  await minus.click();
  await here.getByRole('button', { name: /usually 1000/ }).click();
  await keep(page);
  await expect(entries(page, 'on-record')).toHaveCount(1);
  const [record] = await book(served.address, 'clinic');
  expect(record?.readings[0]?.reading['cable']).toBe('-5 °F');
});

test('a record is corrected by a new one that names it', async ({ page, served }) => {
  await openCircuit(page, served.address, 'clinic', 'C01');
  await type(page, 'insulation-resistance', 'on-receipt', '145');
  await keep(page);
  await expect(entries(page, 'on-record')).toHaveCount(1);
  await page.goto(`${served.address}/j/clinic/records`);
  await page.getByRole('button', { name: 'Correct: No. 1' }).click();
  const form = page.getByRole('form', { name: 'Correction of no. 1' });
  await form.getByLabel('insulation resistance C01').fill('1450 MΩ');
  await form.getByRole('button', { name: 'Keep the correction' }).click();
  await expect(form.getByRole('alert')).toContainText('Say why');
  await form.getByLabel('Why it is corrected').fill('a digit was left out');
  await form.getByRole('button', { name: 'Keep the correction' }).click();
  await expect(page.locator('[data-record="1"]')).toContainText('Corrected by no. 2');
  await expect(page.locator('[data-record="2"]')).toContainText('1450 MΩ');
  const [second, first] = await book(served.address, 'clinic');
  expect(second).toMatchObject({ number: 2, corrects: 1 });
  expect(first).toMatchObject({ number: 1, corrected_by: 2 });
});

test('a photo goes on record as JPEG, a signature as PNG', async ({ page, served }) => {
  await openCircuit(page, served.address, 'clinic', 'C01');
  await introduce(page);
  await page
    .getByLabel('Take a photo')
    .last()
    .setInputFiles({ name: 'p.png', mimeType: 'image/png', buffer: picture });
  await page.getByLabel('What it shows').fill('splice before insulating');
  await page.getByRole('button', { name: 'Keep the photo' }).click();
  await expect(entries(page, 'on-record')).toHaveCount(1);

  await page.getByText('Sign', { exact: true }).click();
  const pad = page.getByLabel(/Field for the signature/);
  await pad.scrollIntoViewIfNeeded();
  const box = await pad.boundingBox();
  if (!box) throw new Error('no field to sign in');
  await page.mouse.move(box.x + 30, box.y + 40);
  await page.mouse.down();
  await page.mouse.move(box.x + 120, box.y + 90, { steps: 8 });
  await page.mouse.up();
  await page.getByRole('button', { name: 'Keep the signature' }).click();
  await expect(entries(page, 'on-record')).toHaveCount(2);

  const [signature, photo] = await book(served.address, 'clinic');
  expect(signature).toMatchObject({ kind: 'sign-off', who: technician });
  expect(signature?.files[0]?.media_type).toBe('image/png');
  expect(photo).toMatchObject({ kind: 'photo', circuits: ['C01'] });
  expect(photo?.files[0]?.media_type).toBe('image/jpeg');
  const file = await fetch(`${served.address}/api/files/${photo?.files[0]?.sha256}`);
  expect([...new Uint8Array(await file.arrayBuffer()).slice(0, 2)]).toEqual([0xff, 0xd8]);
});

test('a label leads to its circuit: by picture, by typing, and never into another project', async ({
  page,
  served,
  context,
}) => {
  const draw = async (text: string) => {
    const sheet = await context.newPage();
    await sheet.setContent(renderSVG(text, { pixelSize: 8, border: 4 }));
    const png = await sheet.locator('svg').screenshot();
    await sheet.close();
    return { name: 'label.png', mimeType: 'image/png', buffer: png };
  };
  await page.goto(`${served.address}/j/clinic/circuits`);
  await page.getByRole('button', { name: 'Scan a label' }).click();
  await page
    .getByLabel('Take a picture of the code')
    .last()
    .setInputFiles(await draw('firstdraw:2099-999/C01'));
  await expect(page.getByRole('alert')).toContainText('2099-999');
  await page
    .getByLabel('Take a picture of the code')
    .last()
    .setInputFiles(await draw('https://pipes.example/j/clinic#circuit=C01'));
  await expect(page.getByRole('alert')).toContainText(
    'another building: it names job clinic at pipes.example',
  );
  await page
    .getByLabel('Take a picture of the code')
    .last()
    .setInputFiles(await draw('firstdraw:2026-014/C01'));
  await expect(page).toHaveURL(/\/c\/clinic\/C01$/);

  // An address that leads here: with our scanner, and opened by the phone's own camera.
  await page.goto(`${served.address}/j/clinic/circuits`);
  await page.getByRole('button', { name: 'Scan a label' }).click();
  await page
    .getByLabel('Take a picture of the code')
    .last()
    .setInputFiles(await draw(`${served.address}/j/clinic#circuit=C01`));
  await expect(page).toHaveURL(/\/c\/clinic\/C01$/);
  await page.goto('about:blank');
  await page.goto(`${served.address}/j/clinic#circuit=C01`);
  await expect(page.getByRole('heading', { level: 1, name: 'C01' })).toBeVisible();
  await expect(page).toHaveURL(/\/c\/clinic\/C01$/);

  await page.goto(`${served.address}/j/clinic/circuits`);
  await page.getByRole('button', { name: 'Scan a label' }).click();
  await page.getByLabel(/Too dark/).fill('c99');
  await page.getByRole('button', { name: 'Go', exact: true }).click();
  await expect(page.getByRole('alert')).toContainText('no circuit c99');
  await page.getByLabel(/Too dark/).fill('c01');
  await page.getByRole('button', { name: 'Go', exact: true }).click();
  await expect(page).toHaveURL(/\/c\/clinic\/C01$/);
});

test('what may be wrong is asked, and the next measurement becomes the next field', async ({
  page,
  served,
}) => {
  await openCircuit(page, served.address, 'clinic', 'C01');
  const here = await type(page, 'current', 'energised', '3.4');
  await here.getByLabel(/^Pipe temperature/).fill('60');
  await here.getByLabel(/At the power connection/).fill('208');
  await page.getByRole('button', { name: 'Ask with these readings' }).click();
  const causes = page.locator('.causes li');
  await expect(causes.first()).toBeVisible({ timeout: 60_000 });
  await expect(causes.first()).toContainText('in 100');
  await page.getByRole('button', { name: 'Open the field' }).first().click();
  await expect(page.locator('section[data-kind] :focus')).toBeVisible();
});

test('a look is recorded in words and stands at its test', async ({ page, served }) => {
  await openCircuit(page, served.address, 'clinic', 'C01');
  await introduce(page);
  const look = page.locator('section[data-looked]').first();
  await look.getByRole('button', { name: 'Something is wrong' }).click();
  await look.getByLabel('What is wrong').fill('jacket crushed near the valve');
  await look.getByRole('button', { name: 'Keep on record' }).click();
  await expect(entries(page, 'on-record')).toHaveCount(1);
  expect((await book(served.address, 'clinic'))[0]?.summary).toContain('jacket crushed');
  await expect(look.locator('.last')).toContainText('jacket crushed');
  await expect(look.getByText('Fail')).toBeVisible();
});

test('an instrument is chosen once and remembered; one that is overdue is said', async ({ page, served }) => {
  await openCircuit(page, served.address, 'clinic', 'C01');
  let here = await field(page, 'insulation-resistance', 'on-receipt');
  await here.getByRole('button', { name: /Instrument/ }).click();
  await here.getByLabel('Serial number').fill('IT-0042');
  await here.getByLabel('Calibration due').fill('2020-01-31');
  const use = here.getByRole('button', { name: 'Use this instrument' });
  expect(await use.evaluate((button) => getComputedStyle(button).color)).not.toBe(
    await use.evaluate((button) => getComputedStyle(button).backgroundColor),
  );
  await here.getByRole('button', { name: 'Use this instrument' }).click();
  await expect(here.getByText('Calibration was due on 2020-01-31')).toBeVisible();
  await page.reload();
  here = await field(page, 'insulation-resistance', 'fixed');
  await expect(here.getByText('IT-0042')).toBeVisible();
});
