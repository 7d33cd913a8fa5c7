import { columns, tables } from '../src/i18n/columns.es';
import type { Sheet } from '../src/lib/sheet';
import { onDisk, rowOnDisk } from './desk';
import { expect, test } from './program';

test('arrows, F2, Enter and Tab as in a spreadsheet', async ({ page, served }) => {
  await page.goto('/j/clinic/tables');
  await page.getByRole('gridcell', { name: 'R-09', exact: true }).click();
  await page.keyboard.press('End');
  await page.keyboard.press('Home');
  await page.keyboard.press('F2');
  await expect(page.getByRole('textbox')).toHaveValue('R-09');
  await page.keyboard.press('Escape');
  const length = page.getByRole('columnheader', { name: /^Length/ });
  const at = await length.evaluate((cell) => (cell as HTMLTableCellElement).cellIndex);
  for (let step = 1; step < at; ++step) await page.keyboard.press('ArrowRight');
  await page.keyboard.type('13 ft');
  await page.keyboard.press('Enter');
  await expect.poll(() => rowOnDisk(served, 'clinic', 'runs.csv', 'R-09')).toContain('13');
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(() => rowOnDisk(served, 'clinic', 'runs.csv', 'R-09')).toContain(',9,');
});

test('a block is pasted from a spreadsheet in one step, and undone in one', async ({ page, served }) => {
  await page.goto('/j/clinic/tables#outlets');
  const before = onDisk(served, 'clinic', 'outlets.csv');
  await page.getByRole('gridcell', { name: 'O-02', exact: true }).click();
  const count = page.getByRole('columnheader', { name: /^Count/ });
  const at = await count.evaluate((cell) => (cell as HTMLTableCellElement).cellIndex);
  for (let step = 1; step < at; ++step) await page.keyboard.press('ArrowRight');
  await page.evaluate(() => {
    const data = new DataTransfer();
    data.setData('text/plain', '4\t\tLab A\r\n5\t\tLab B\r\n'); // count, space, room
    document.activeElement?.dispatchEvent(
      new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }),
    );
  });
  await expect.poll(() => rowOnDisk(served, 'clinic', 'outlets.csv', 'O-02')).toContain('4,Lab A');
  expect(rowOnDisk(served, 'clinic', 'outlets.csv', 'O-03')).toContain('5,Lab B');
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(() => onDisk(served, 'clinic', 'outlets.csv')).toBe(before);
});

test('rows are added and removed', async ({ page, served }) => {
  await page.goto('/j/clinic/tables#outlets');
  await page.getByRole('gridcell', { name: 'O-05', exact: true }).click();
  await page.getByRole('button', { name: /Add a row/ }).click();
  await expect(page.getByRole('gridcell', { name: 'O-06', exact: true })).toBeVisible();
  await expect.poll(() => rowOnDisk(served, 'clinic', 'outlets.csv', 'O-06')).not.toBe('');
  await page.getByRole('button', { name: /Remove 1/ }).click();
  await expect.poll(() => rowOnDisk(served, 'clinic', 'outlets.csv', 'O-06')).toBe('');
});

test('a bad cell is refused, marked and kept as typed', async ({ page, served }) => {
  await page.goto('/j/clinic/tables');
  await page.getByRole('gridcell', { name: 'R-07', exact: true }).click();
  const at = await page
    .getByRole('columnheader', { name: /^Size/ })
    .evaluate((cell) => (cell as HTMLTableCellElement).cellIndex);
  for (let step = 1; step < at; ++step) await page.keyboard.press('ArrowRight');
  await page.keyboard.type('9/16');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('status').filter({ hasText: '!' })).toBeVisible();
  await expect(page.getByRole('textbox', { name: 'Size R-07' })).toHaveValue('9/16');
  expect(rowOnDisk(served, 'clinic', 'runs.csv', 'R-07')).not.toContain('9/16');
});

test('every table and column of a job has its Spanish name', async ({ served }) => {
  const sheet = (await (await fetch(`${served.address}/api/jobs/hotel/sheet`)).json()) as Sheet;
  const unnamed = sheet.tables.flatMap((table) => [
    ...(table.name in tables ? [] : [table.name]),
    ...table.columns.filter((each) => !(each.key in columns)).map((each) => `${table.name}.${each.key}`),
  ]);
  expect(sheet.tables.length).toBeGreaterThan(20);
  expect(unnamed).toEqual([]);
});
