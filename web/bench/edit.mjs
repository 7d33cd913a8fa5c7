// From Enter in a field to the new figures on the screen, in Chromium against the real program on a copy of the example
// hotel: `node bench/edit.mjs PROGRAM`. Prints milliseconds: the whole, and what of it the program took.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from '@playwright/test';

const edits = 20;
const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'firstdraw-edit-'));
cpSync(join(root, 'examples/hotel'), join(folder, 'jobs/hotel'), { recursive: true });
const server = spawn(
  resolve(process.argv[2] ?? join(root, 'build/release/firstdraw')),
  ['serve', join(folder, 'jobs'), '--no-open', ...(process.env.FIRSTDRAW_PAGE ? ['--page', process.env.FIRSTDRAW_PAGE] : []), '--port', '0', '--json'],
  { env: { ...process.env, XDG_STATE_HOME: join(folder, 'state') }, stdio: ['ignore', 'pipe', 'inherit'] },
);
const [said] = await once(server.stdout, 'data');
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu'],
});
try {
  const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
  await page.goto(`${JSON.parse(said).address.replace(/\/$/, '')}/j/hotel#run=A-RISE-2`);
  const field = page.getByRole('complementary').getByLabel('Length').first();
  await field.waitFor();
  // When the run's name in the drawing says the new length, and the frame after it has been painted.
  await page.evaluate(() => {
    window.seen = (text) =>
      new Promise((found) => {
        const run = document.getElementById('run-A-RISE-2');
        const look = () => {
          if (!run.getAttribute('aria-label').includes(` ${text}`)) return requestAnimationFrame(look);
          const channel = new MessageChannel();
          channel.port1.onmessage = () => found(performance.now());
          requestAnimationFrame(() => channel.port2.postMessage(0));
        };
        look();
      });
    window.begun = 0;
    addEventListener('keydown', (pressed) => {
      if (pressed.key === 'Enter') window.begun = performance.now();
    }, true);
  });
  const whole = [];
  const served = [];
  for (let i = 0; i < edits; ++i) {
    const text = `${30 + (i % 7)} ft`;
    await field.fill(text);
    const answer = page.waitForResponse((each) => each.url().endsWith('/edits'));
    const until = page.evaluate((expected) => window.seen(expected), text);
    await field.press('Enter');
    whole.push((await until) - (await page.evaluate(() => window.begun)));
    served.push((await (await answer).json()).view.took_ms);
  }
  const middle = (all) => [...all].sort((a, b) => a - b)[Math.floor(all.length / 2)].toFixed(0);
  const worst = (all) => Math.max(...all).toFixed(0);
  console.log(`from Enter to the painted frame: median ${middle(whole)} ms, worst of ${edits} ${worst(whole)} ms`);
  console.log(`of it the program's answer: median ${middle(served)} ms, worst ${worst(served)} ms`);
} finally {
  await browser.close();
  server.kill();
  rmSync(folder, { recursive: true });
}
