// Several windows on one job.
import { fill, openDrawing, rowOnDisk, select } from './desk';
import { expect, test } from './program';

test('two tabs see each other’s edit over one connection', async ({ context, served }) => {
  let connections = 0;
  context.on('request', (request) => {
    if (request.url().endsWith('/api/events')) connections += 1;
  });
  const one = await context.newPage();
  const two = await context.newPage();
  await openDrawing(one, 'clinic');
  await openDrawing(two, 'clinic');
  await select(one, 'run', 'R-08');
  await fill(one, 'Length', '21 ft');
  await expect(two.getByRole('option', { name: /^R-08,.*21 ft/ })).toBeAttached();
  await expect(two.getByText(/Changed in another window|changed this job/)).toBeVisible();
  expect(connections).toBe(1);
  // The tab that listened goes; the other one takes over.
  await one.close();
  const three = await context.newPage();
  await openDrawing(three, 'clinic');
  await three.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(() => rowOnDisk(served, 'clinic', 'runs.csv', 'R-08')).toContain(',15,');
  await expect(two.getByRole('option', { name: /^R-08,.*15 ft/ })).toBeAttached();
});

test('who edits a cell that somebody else changed sees both values and chooses', async ({
  browser,
  served,
}) => {
  const here = await (await browser.newContext({ baseURL: served.address })).newPage();
  const there = await (await browser.newContext({ baseURL: served.address })).newPage();
  await there.route('**/api/events', (route) => route.abort()); // hears nothing of the others
  await openDrawing(here, 'clinic');
  await openDrawing(there, 'clinic');
  await select(here, 'run', 'R-05');
  await select(there, 'run', 'R-05');
  await fill(here, 'Length', '14 ft');
  await expect.poll(() => rowOnDisk(served, 'clinic', 'runs.csv', 'R-05')).toContain(',14 ft,');
  await fill(there, 'Length', '17 ft');
  const dialog = there.getByRole('dialog', { name: /same cell/ });
  await expect(dialog).toContainText('14');
  await expect(dialog).toContainText('17');
  expect(rowOnDisk(served, 'clinic', 'runs.csv', 'R-05')).toContain(',14 ft,');
  await dialog.getByRole('button', { name: 'Write mine' }).click();
  await expect.poll(() => rowOnDisk(served, 'clinic', 'runs.csv', 'R-05')).toContain(',17 ft,');
  await there.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(() => rowOnDisk(served, 'clinic', 'runs.csv', 'R-05')).toContain(',14 ft,');
  await there.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(() => rowOnDisk(served, 'clinic', 'runs.csv', 'R-05')).toContain(',9,');
});
