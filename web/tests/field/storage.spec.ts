// A full device, and two tabs of one device: what is typed is never lost, nothing goes on record twice.
import type { Page } from '@playwright/test';
import { book, expect, test } from './program';
import { entries, introduce, openCircuit, type } from './steps';

const full = 'storage is full';

async function room(page: Page, address: string, bytes?: number): Promise<void> {
  const devtools = await page.context().newCDPSession(page);
  const quota = bytes === undefined ? {} : { quotaSize: bytes };
  await devtools.send('Storage.overrideQuotaForOrigin', { origin: address, ...quota });
}

/** Fills what is left of the room, down to the last bytes, as pictures would. */
async function fill(page: Page): Promise<void> {
  await page.evaluate(async () => {
    const opening = indexedDB.open('firstdraw');
    await new Promise((done) => {
      opening.onsuccess = done;
    });
    const db = opening.result;
    const put = (name: string, size: number) =>
      new Promise<boolean>((done) => {
        const work = db.transaction('bytes', 'readwrite');
        work.objectStore('bytes').put(crypto.getRandomValues(new Uint8Array(size)), name);
        work.oncomplete = () => done(true);
        work.onabort = () => done(false);
      });
    let count = 0;
    for (const size of [65536, 8192, 1024, 64, 1]) while (await put(`fill-${++count}`, size));
    db.close();
  });
}

test.describe('a full device', () => {
  test.use({ serviceWorkers: 'block' }); // the page kept for offline use would fill it at once

  test('says so, keeps what is on the screen, and goes on when there is room', async ({ page, served }) => {
    await room(page, served.address, 1_000_000);
    await openCircuit(page, served.address, 'clinic', 'C01');
    await introduce(page);
    await fill(page);
    const here = await type(page, 'insulation-resistance', 'on-receipt', '1450');
    const told = page.getByRole('alert').filter({ hasText: full });
    await expect(told.first()).toBeVisible();
    await page.locator('.bar button.main').click();
    await expect(page.locator('.bar').getByRole('alert')).toContainText(full);
    await expect(here.locator('input.value')).toHaveValue('1450');
    await expect(entries(page, 'on-record')).toHaveCount(0);

    await room(page, served.address);
    await expect(page.locator('.news').getByRole('alert')).toHaveCount(0);
    await page.reload();
    await expect(here.locator('input.value')).toHaveValue('1450');
    await page.locator('.bar button.main').click();
    await expect(entries(page, 'on-record')).toHaveCount(1);
    expect(await book(served.address, 'clinic')).toHaveLength(1);
  });
});

test('two tabs at one circuit: each keeps what it typed, and a reading goes on record once', async ({
  page,
  served,
  context,
}) => {
  await openCircuit(page, served.address, 'clinic', 'C01');
  await introduce(page);
  const other = await context.newPage();
  await openCircuit(other, served.address, 'clinic', 'C01');
  await type(page, 'insulation-resistance', 'on-receipt', '1450');
  await type(other, 'current', 'energised', '4.2');
  await page.reload();
  await other.reload();
  for (const tab of [page, other]) {
    const keep = tab.locator('.bar button.main');
    await expect(keep).toHaveText('Keep 2 readings');
    await expect(keep).toBeEnabled();
  }
  // At the same moment: where the other tab was quicker there is nothing left to press.
  await Promise.all(
    [page, other].map((tab) =>
      tab.evaluate(() => document.querySelector<HTMLButtonElement>('.bar button.main')?.click()),
    ),
  );
  await expect(page.locator('.bar')).toHaveCount(0);
  await expect(other.locator('.bar')).toHaveCount(0);
  await expect(entries(page, 'on-record')).toHaveCount(1);
  const kept = await book(served.address, 'clinic');
  expect(kept.map((record) => record.readings.map((each) => each.reading['what']).sort())).toEqual([
    ['current', 'insulation-resistance'],
  ]);
});
