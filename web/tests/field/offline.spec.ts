// Bad network: what is typed stays, goes out once, and says where it is.
import { book, expect, test } from './program';
import { entries, introduce, keep, keepNote, openCircuit, type } from './steps';

test('a visit without connection, with the page closed and opened in between', async ({
  page,
  served,
  context,
}) => {
  await page.goto(`${served.address}/j/clinic/circuits`);
  await expect(page.locator('[data-ahead="true"]')).toBeVisible();
  await page.evaluate(() => navigator.serviceWorker.ready);
  await expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller !== null)).toBe(true);
  await context.setOffline(true);

  await openCircuit(page, served.address, 'clinic', 'C01');
  await expect(page.getByText('No connection. What you see is from')).toBeVisible();
  const here = await type(page, 'insulation-resistance', 'on-receipt', '1450');
  await expect(here.getByText('judged when the connection is back')).toBeVisible();
  await page.reload();
  await expect(here.locator('input.value')).toHaveValue('1450');
  await keep(page);
  await expect(entries(page, 'kept')).toContainText('no connection');
  await page.close();

  const later = await context.newPage();
  await openCircuit(later, served.address, 'clinic', 'C01');
  await expect(entries(later, 'kept')).toHaveCount(1);
  expect(await book(served.address, 'clinic')).toHaveLength(0);
  await context.setOffline(false);
  await expect(entries(later, 'on-record')).toContainText('On record no. 1');
  expect(await book(served.address, 'clinic')).toHaveLength(1);
});

test('what waits goes out after the page is closed, when the browser wakes the service worker', async ({
  page,
  served,
  context,
}) => {
  const idle = await context.newPage(); // the browser itself is spoken to from here
  const devtools = await context.newCDPSession(idle);
  const worker = new Promise<string>((found) => {
    devtools.on('ServiceWorker.workerRegistrationUpdated', ({ registrations }) => {
      const ours = registrations.find((each) => each.scopeURL.startsWith(served.address));
      if (ours) found(ours.registrationId);
    });
  });
  await devtools.send('ServiceWorker.enable');
  await openCircuit(page, served.address, 'clinic', 'C01');
  await page.evaluate(() => navigator.serviceWorker.ready);
  await introduce(page);
  await context.setOffline(true);
  await keepNote(page, 'sent with no page open');
  await expect(entries(page, 'kept')).toContainText('no connection');
  await page.close();
  expect(await book(served.address, 'clinic')).toHaveLength(0);

  await context.setOffline(false);
  const sync = {
    origin: served.address,
    registrationId: await worker,
    tag: 'firstdraw-send',
    lastChance: false,
  };
  // A browser asks again, too, when a worker could not send.
  await expect(async () => {
    await devtools.send('ServiceWorker.dispatchSyncEvent', sync);
    const summaries = (await book(served.address, 'clinic')).map((record) => record.summary);
    expect(summaries).toEqual(['C01: sent with no page open']);
  }).toPass({ timeout: 20_000 });
  expect(context.pages()).toEqual([idle]);
});

/** A generator with a seed, so that a failure can be repeated. */
function chance(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

test.describe('', () => {
  // What a service worker asks for does not pass by the routes of a test.
  test.use({ serviceWorkers: 'block' });

  test('a refused entry says why, is mended in its field and goes on record', async ({ page, served }) => {
    await page.route('**/judge', (route) => route.abort());
    await openCircuit(page, served.address, 'clinic', 'C01');
    await type(page, 'insulation-resistance', 'on-receipt', '14,5,0');
    await keep(page);
    const refused = entries(page, 'refused');
    await expect(refused).toContainText('Insulation resistance: "14,5,0" has a comma');
    await page.unroute('**/judge');
    await refused.getByRole('button', { name: 'Mend' }).click();
    await expect(refused).toHaveCount(0);
    await type(page, 'insulation-resistance', 'on-receipt', '1450');
    await keep(page);
    await expect(entries(page, 'on-record')).toHaveCount(1);
    expect(await book(served.address, 'clinic')).toHaveLength(1);
  });

  test('no double and no lost record over a network cut at random, two tabs and a killed server', async ({
    page,
    served,
    context,
  }) => {
    const made = 30;
    const random = chance(20261130);
    const cuts = { before: 0, after: 0, through: 0 };
    await context.route(
      (url) => url.pathname.endsWith('/records') || url.pathname === '/api/files',
      async (route) => {
        if (route.request().method() !== 'POST') return route.continue();
        const draw = random();
        if (draw < 0.2) {
          ++cuts.before;
          return route.abort('connectionreset');
        }
        if (draw < 0.4) {
          ++cuts.after;
          await route.fetch().catch(() => undefined); // the server gets it, the phone never hears of it
          return route.abort('connectionreset');
        }
        ++cuts.through;
        return route.continue().catch(() => undefined);
      },
    );
    await openCircuit(page, served.address, 'clinic', 'C01');
    await introduce(page);
    const other = await context.newPage();
    await openCircuit(other, served.address, 'clinic', 'C01');
    for (let i = 0; i < made; ++i) {
      const tab = i % 2 ? other : page;
      await tab.bringToFront(); // a browser draws the tab behind once a second
      await keepNote(tab, `entry ${i}`);
      if (i === 12) await served.again();
      if (i === 20) {
        await page.reload();
        await openCircuit(page, served.address, 'clinic', 'C01');
      }
    }
    await other.close();
    // The connection comes back again and again: no pause after the last try.
    await expect(async () => {
      await page.evaluate(() => dispatchEvent(new Event('online')));
      await expect(entries(page, 'on-record')).toHaveCount(made, { timeout: 500 });
    }).toPass({ timeout: 90_000 });
    const notes = (await book(served.address, 'clinic')).map((record) => record.summary);
    const numbers = notes.map((note) => Number(/entry (\d+)/.exec(note)?.[1])).sort((a, b) => a - b);
    expect(numbers).toEqual(Array.from({ length: made }, (_, i) => i));
    expect(cuts.before).toBeGreaterThan(3);
    expect(cuts.after).toBeGreaterThan(3);
  });
});
