// The real program on a copy of the examples, one for each worker: FIRSTDRAW_PROGRAM names it, FIRSTDRAW_PAGE the folder
// of the built page (left out: the one built into the program).
import { type ChildProcess, spawn } from 'node:child_process';
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { test as base } from '@playwright/test';

const root = fileURLToPath(new URL('../..', import.meta.url));
const program = resolve(process.env.FIRSTDRAW_PROGRAM ?? join(root, 'build/release/firstdraw'));
const jobs = ['clinic', 'hotel', 'care-home'];

export interface Served {
  address: string;
  /** Folder of the jobs it serves. */
  folder: string;
}

function copyOfExamples(): string {
  const folder = mkdtempSync(join(tmpdir(), 'firstdraw-page-'));
  for (const job of jobs) cpSync(join(root, 'examples', job), join(folder, job), { recursive: true });
  return folder;
}

function start(folder: string): ChildProcess {
  const page = process.env.FIRSTDRAW_PAGE;
  const args = ['serve', folder, '--no-open', '--port', '0', '--json', ...(page ? ['--page', page] : [])];
  const env = { ...process.env, XDG_STATE_HOME: join(folder, '.state') };
  return spawn(program, args, { stdio: ['ignore', 'pipe', 'inherit'], env });
}

function addressOf(child: ChildProcess): Promise<string> {
  return new Promise((found, failed) => {
    let said = '';
    child.stdout?.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      const address = /"address":\s*"([^"]+)"/.exec(said)?.[1];
      if (address) found(address.replace(/\/$/, ''));
    });
    child.on('error', failed);
    child.on('exit', (code) => failed(new Error(`${program} ended with ${code}: ${said}`)));
  });
}

export const test = base.extend<object, { served: Served }>({
  served: [
    // biome-ignore lint/correctness/noEmptyPattern: the runner reads the names of the first argument
    async ({}, use) => {
      const folder = copyOfExamples();
      const child = start(folder);
      const address = await addressOf(child);
      await use({ address, folder });
      child.removeAllListeners('exit');
      child.kill('SIGTERM');
      rmSync(folder, { recursive: true, force: true });
    },
    { scope: 'worker' },
  ],
  baseURL: async ({ served }, use) => use(served.address),
});
export { expect } from '@playwright/test';
