import { choose, drawnOn, fill, onDisk, openDrawing, riser, rowOnDisk, select } from './desk';
import { expect, test } from './program';

test('the list of jobs leads to the drawing of the hotel', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('link', { name: 'Hotel Alder Row' }).click();
  await expect(riser(page).getByRole('option', { name: /^1-MAIN-01,/ })).toBeVisible();
  for (const run of ['1-MAIN-01', 'A-RISE-4', 'L-STAFF-02'])
    await expect.poll(() => drawnOn(page, run), { message: `what lies where ${run} is drawn` }).toBe(run);
});

test('lenses have legends in the chosen units', async ({ page }) => {
  await openDrawing(page, 'hotel');
  await page.getByRole('radio', { name: 'Loses' }).check({ force: true });
  const legend = page.getByRole('region', { name: 'Legend' });
  await expect(legend).toContainText('W/ft');
  await page.getByText('Units · language').click();
  await page.getByRole('combobox', { name: 'Units' }).selectOption('metric');
  await expect(legend).toContainText('W/m');
  await expect(legend).not.toContainText('W/ft');
});

test('an edited cell is on the disk at once, its result on the page, and undo takes both back', async ({
  page,
  served,
}) => {
  await openDrawing(page, 'clinic');
  await select(page, 'run', 'R-04');
  const before = rowOnDisk(served, 'clinic', 'runs.csv', 'R-04');
  await fill(page, 'Length', '48 ft');
  await expect(page.getByRole('button', { name: /^Undo \S/ })).toBeEnabled();
  await expect.poll(() => rowOnDisk(served, 'clinic', 'runs.csv', 'R-04')).toContain('48');
  await expect(page.getByRole('option', { name: /^R-04,.*48 ft/ })).toBeAttached();
  await page.getByRole('listbox', { name: /drawing/i }).focus();
  await page.keyboard.press('Control+z');
  await expect.poll(() => rowOnDisk(served, 'clinic', 'runs.csv', 'R-04')).toBe(before);
  await expect(page.getByRole('option', { name: /^R-04,.*24 ft/ })).toBeAttached();
  await page.keyboard.press('Control+Shift+z');
  await expect.poll(() => rowOnDisk(served, 'clinic', 'runs.csv', 'R-04')).toContain('48');
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(() => rowOnDisk(served, 'clinic', 'runs.csv', 'R-04')).toBe(before);
});

test('what cannot be read is refused at its field, and what was typed stays', async ({ page, served }) => {
  await openDrawing(page, 'clinic');
  await select(page, 'run', 'R-04');
  const before = rowOnDisk(served, 'clinic', 'runs.csv', 'R-04');
  for (const bad of ['12 parsecs', 'x', '-4 ft']) {
    await fill(page, 'Length', bad);
    const field = page.getByRole('complementary').getByLabel('Length').first();
    await expect(field).toHaveAttribute('aria-invalid', 'true');
    await expect(field).toHaveValue(bad);
    await expect(page.getByRole('complementary').getByRole('alert')).toBeVisible();
  }
  expect(rowOnDisk(served, 'clinic', 'runs.csv', 'R-04')).toBe(before);
});

test('one edit for all that is selected; different values are said to be different', async ({
  page,
  served,
}) => {
  await openDrawing(page, 'clinic');
  const box = page.getByRole('listbox', { name: /drawing/i });
  await box.focus();
  await page.keyboard.press('Control+a');
  await expect(page.getByRole('heading', { name: '10 runs' })).toBeVisible();
  const size = page.getByRole('complementary').getByLabel('Size').first();
  await expect(size).toHaveAttribute('placeholder', 'different');
  await page.getByText(/^\d+ more$/).click();
  await fill(page, 'Emissivity', '0.8');
  await expect.poll(() => rowOnDisk(served, 'clinic', 'runs.csv', 'R-10')).toContain('0.8');
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(() => rowOnDisk(served, 'clinic', 'runs.csv', 'R-10')).not.toContain('0.8');
});

test('by keyboard alone along the pipe', async ({ page }) => {
  await openDrawing(page, 'clinic');
  const box = page.getByRole('listbox', { name: /drawing/i });
  await box.focus();
  await page.keyboard.press('Enter');
  await expect(box).toHaveAttribute('aria-activedescendant', 'run-R-01');
  await page.keyboard.press('ArrowRight');
  await expect(box).toHaveAttribute('aria-activedescendant', 'run-R-02');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('ArrowDown');
  await expect(box).toHaveAttribute('aria-activedescendant', 'run-R-05');
  await page.keyboard.press('ArrowRight');
  await expect(box).toHaveAttribute('aria-activedescendant', 'outlet-O-01');
  await page.keyboard.press('Shift+ArrowLeft');
  await expect(box.getByRole('option', { selected: true })).toHaveCount(2);
  await page.keyboard.press('Escape');
  await expect(box.getByRole('option', { selected: true })).toHaveCount(0);
});

test('a run is split, a tap is added, a tap is moved, all of it undone', async ({ page, served }) => {
  await openDrawing(page, 'clinic');
  const runs = onDisk(served, 'clinic', 'runs.csv');
  const taps = onDisk(served, 'clinic', 'outlets.csv');
  const undo = page.getByRole('button', { name: /^Undo/ });
  await select(page, 'run', 'R-03');
  await page.locator('summary', { hasText: 'Split this run' }).click();
  await page.getByLabel(/Length from its upstream end/).fill('10 ft');
  await page.getByRole('button', { name: 'Split this run' }).click();
  await expect.poll(() => rowOnDisk(served, 'clinic', 'runs.csv', 'R-03')).toContain(',10,');
  await page.getByRole('button', { name: 'Go on at joint J-R-03' }).click();
  await page.getByRole('button', { name: 'Add a tap here' }).click();
  await expect.poll(() => rowOnDisk(served, 'clinic', 'outlets.csv', 'T-01')).toContain(',J-R-03,');
  await expect(riser(page).getByRole('option', { name: /^Tap T-01,/ })).toBeVisible();
  await select(page, 'outlet', 'O-05');
  await fill(page, 'Joint', 'B4');
  await expect.poll(() => rowOnDisk(served, 'clinic', 'outlets.csv', 'O-05')).toContain(',B4,');
  for (let step = 0; step < 3; ++step) {
    const label = await undo.getAttribute('aria-label');
    await undo.click();
    await expect(undo).not.toHaveAttribute('aria-label', label ?? '');
  }
  await expect.poll(() => onDisk(served, 'clinic', 'runs.csv')).toBe(runs);
  expect(onDisk(served, 'clinic', 'outlets.csv')).toBe(taps);
});

test('a riser goes from a joint through levels, and back', async ({ page, served }) => {
  await openDrawing(page, 'hotel');
  const before = onDisk(served, 'hotel', 'runs.csv');
  await select(page, 'run', 'L-STAFF-02');
  await page.getByRole('button', { name: /^Go on at joint/ }).click();
  await page.locator('summary', { hasText: 'Add a riser from here' }).click();
  await page.getByRole('checkbox', { name: /^Level 2/ }).check();
  await page.getByRole('checkbox', { name: /^Level 3/ }).check();
  const drawn = await riser(page).locator('[data-kind="run"]').count();
  await page.getByRole('button', { name: 'Add a riser from here' }).click();
  await expect(riser(page).locator('[data-kind="run"]')).toHaveCount(drawn + 2);
  expect(onDisk(served, 'hotel', 'runs.csv')).not.toBe(before);
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect(riser(page).locator('[data-kind="run"]')).toHaveCount(drawn);
  expect(onDisk(served, 'hotel', 'runs.csv')).toBe(before);
});

test('a tap is dragged to another joint', async ({ page, served }) => {
  await openDrawing(page, 'clinic');
  await page.getByRole('button', { name: 'Larger' }).click();
  const tap = await page.locator('[id="outlet-O-04"]').boundingBox();
  const joint = await page.locator('[id="node-B5"]').boundingBox();
  if (!tap || !joint) throw new Error('tap and joint are on the screen');
  await page.mouse.move(tap.x + tap.width / 2, tap.y + tap.height / 2);
  await page.mouse.down();
  await page.mouse.move(joint.x + joint.width / 2, joint.y + joint.height / 2, { steps: 8 });
  await page.mouse.up();
  await expect.poll(() => rowOnDisk(served, 'clinic', 'outlets.csv', 'O-04')).toContain(',B5,');
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(() => rowOnDisk(served, 'clinic', 'outlets.csv', 'O-04')).toContain(',B4,');
});

test('the drawing as tables says the same', async ({ page }) => {
  await choose(page, { language: 'en', theme: 'light', units: 'metric' });
  await openDrawing(page, 'clinic');
  await page.getByRole('button', { name: 'As table' }).click();
  const row = page.getByRole('row').filter({ has: page.getByRole('button', { name: 'R-02', exact: true }) });
  await expect(row).toContainText('5.5 m');
});

test('labels do not lie on one another in the hotel', async ({ page }) => {
  await openDrawing(page, 'hotel');
  for (let zoom = 0; zoom < 3; ++zoom) {
    const boxes = await page.locator('.riser text.label').evaluateAll((texts) =>
      texts.map((text) => {
        const box = text.getBoundingClientRect();
        return { left: box.left, right: box.right, top: box.top + 2, bottom: box.bottom - 2 };
      }),
    );
    const clashes = boxes.filter((a, index) =>
      boxes
        .slice(index + 1)
        .some((b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom),
    );
    expect(clashes).toEqual([]);
    await page.getByRole('button', { name: 'Larger' }).click();
    await page.getByRole('button', { name: 'Larger' }).click();
  }
});
