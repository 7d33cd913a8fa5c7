// A label before the camera: Chromium's own fake camera shows pictures that are made here.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { encode } from 'uqr';
import { expect, test } from './program';

const width = 640;
const height = 480;
const modulePx = 10;

/** A code, dark on a grey wall, as frames of a camera: YUV4MPEG2, as its own description has it. */
function frames(text: string): Buffer {
  const { data, size } = encode(text, { border: 4, ecc: 'M' });
  const left = Math.round((width - size * modulePx) / 2);
  const top = Math.round((height - size * modulePx) / 2);
  const luma = Buffer.alloc(width * height, 120);
  for (let y = 0; y < size * modulePx; ++y)
    for (let x = 0; x < size * modulePx; ++x) {
      const dark = data[Math.floor(y / modulePx)]?.[Math.floor(x / modulePx)];
      luma[(top + y) * width + left + x] = dark ? 30 : 220;
    }
  const colourless = Buffer.alloc((width * height) / 2, 128);
  const one = Buffer.concat([Buffer.from('FRAME\n'), luma, colourless]);
  const head = Buffer.from(`YUV4MPEG2 W${width} H${height} F10:1 Ip A1:1 C420\n`);
  return Buffer.concat([head, ...Array.from({ length: 5 }, () => one)]);
}

const folder = mkdtempSync(join(tmpdir(), 'firstdraw-camera-'));
const film = join(folder, 'label.y4m');
writeFileSync(film, frames('firstdraw:2026-014/C01'));

test.use({
  launchOptions: {
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--no-first-run',
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream',
      `--use-file-for-fake-video-capture=${film}`,
    ],
  },
});

test.afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('a label held before the camera opens its circuit, and the camera is let go', async ({
  page,
  served,
}) => {
  await page.addInitScript(() => {
    const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
    const opened: MediaStreamTrack[] = [];
    Object.assign(globalThis, { opened });
    navigator.mediaDevices.getUserMedia = async (wish) => {
      const stream = await ask(wish);
      opened.push(...stream.getTracks());
      return stream;
    };
  });
  await page.goto(`${served.address}/j/clinic/circuits`);
  await page.getByRole('button', { name: 'Scan a label' }).click();
  await expect(page).toHaveURL(/\/c\/clinic\/C01$/);
  await expect(page.getByRole('heading', { level: 1, name: 'C01' })).toBeVisible();
  const states = () =>
    page.evaluate(() =>
      (globalThis as unknown as { opened: MediaStreamTrack[] }).opened.map((track) => track.readyState),
    );
  await expect.poll(states).toEqual(['ended']);
});

test('before the circuits of another job it says so, and opens the circuit of its own project when told', async ({
  page,
  served,
}) => {
  await page.goto(`${served.address}/j/hotel/circuits`);
  await page.getByRole('button', { name: 'Scan a label' }).click();
  await expect(page.getByRole('alert')).toContainText('another building: Mill Lane Clinic');
  await expect(page).toHaveURL(/\/j\/hotel\/circuits$/);
  await page.getByRole('button', { name: 'Open C01 of Mill Lane Clinic' }).click();
  await expect(page).toHaveURL(/\/c\/clinic\/C01$/);
});
