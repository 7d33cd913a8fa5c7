// The program, serving copies of the examples from a folder of its own.
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { test as base } from '@playwright/test';
import type { components } from '../../src/lib/api-types';

export type Schemas = components['schemas'];

const root = fileURLToPath(new URL('../../..', import.meta.url));
const program = process.env.FIRSTDRAW_PROGRAM ?? join(root, 'build', 'release', 'firstdraw');
const page = process.env.FIRSTDRAW_PAGE;

export interface Served {
  address: string;
  /** In the network, by TLS; empty without `lan`. */
  lan: string;
  folder: string;
  /** Ends it the hard way and starts it again at the same port. */
  again(): Promise<void>;
  stop(): void;
}

interface Said {
  address: string;
  lan?: { address: string };
}

function started(child: ChildProcess): Promise<Said> {
  return new Promise((resolve, reject) => {
    let said = '';
    let complaints = '';
    child.stderr?.on('data', (data) => {
      complaints += data;
    });
    child.stdout?.on('data', (data) => {
      said += data;
      try {
        resolve(JSON.parse(said) as Said);
      } catch {
        // the rest is still to come
      }
    });
    child.on('exit', (code) => reject(new Error(`the program ended with ${code}: ${complaints}`)));
  });
}

export async function serve(options: { lan?: boolean } = {}): Promise<Served> {
  const folder = mkdtempSync(join(tmpdir(), 'firstdraw-page-'));
  for (const job of ['clinic', 'hotel'])
    cpSync(join(root, 'examples', job), join(folder, 'jobs', job), { recursive: true });
  const args = [...(page ? ['--page', page] : []), ...(options.lan ? ['--lan'] : [])];
  const env = { ...process.env, XDG_STATE_HOME: join(folder, 'state'), FIRSTDRAW_STORE: '' };
  const run = (port: string) =>
    spawn(program, ['serve', join(folder, 'jobs'), '--no-open', '--json', '--port', port, ...args], { env });
  let child = run('0');
  const said = await started(child);
  return {
    address: said.address.replace(/\/$/, ''),
    lan: (said.lan?.address ?? '').replace(/\/$/, ''),
    folder,
    async again() {
      child.removeAllListeners('exit');
      const gone = once(child, 'exit');
      child.kill('SIGKILL');
      await gone;
      child = run(new URL(said.address).port);
      await started(child);
    },
    stop() {
      child.removeAllListeners('exit');
      child.kill();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** A test at the size of a phone, with the program for itself. */
export const test = base.extend<{ served: Served }>({
  viewport: { width: 390, height: 844 },
  isMobile: true,
  hasTouch: true,
  // biome-ignore lint/correctness/noEmptyPattern: the form that fixtures have
  served: async ({}, use) => {
    const served = await serve();
    await use(served);
    served.stop();
  },
});

export { expect } from '@playwright/test';

export async function book(address: string, job: string): Promise<Schemas['RecordEntry'][]> {
  const response = await fetch(`${address}/api/jobs/${job}/records`);
  if (!response.ok) throw new Error(await response.text());
  return (await response.json()) as Schemas['RecordEntry'][];
}
