// The real program on a copy of the examples: FIRSTDRAW_PROGRAM names it, FIRSTDRAW_PAGE the folder of the built page
// (left out: the one built into the program).
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { test as base } from '@playwright/test';

const root = fileURLToPath(new URL('../..', import.meta.url));
const program = resolve(process.env.FIRSTDRAW_PROGRAM ?? join(root, 'build/release/firstdraw'));
const page = process.env.FIRSTDRAW_PAGE;
const examples = ['clinic', 'hotel', 'care-home'];

export interface Served {
  address: string;
  /** In the network, by TLS; empty without `lan`. */
  lan: string;
  /** Folder of the jobs it serves. */
  folder: string;
  /** Ends it the hard way. */
  kill(): Promise<void>;
  /** Starts it again at the same port; ends it before, if it runs. */
  again(): Promise<void>;
  stop(): void;
}

interface Said {
  address: string;
  lan?: { address: string };
}

/** Null while the rest is still to come. */
function parsed(said: string): Partial<Said> | null {
  try {
    return JSON.parse(said) as Partial<Said>;
  } catch {
    return null;
  }
}

/** What the program says of itself when it listens; an error with its complaint when it ends before. */
function started(child: ChildProcess): Promise<Said> {
  return new Promise((found, failed) => {
    let said = '';
    let complaints = '';
    child.stderr?.on('data', (data: Buffer) => {
      complaints += data.toString();
    });
    child.stdout?.on('data', (data: Buffer) => {
      said += data.toString();
      const whole = parsed(said);
      if (whole?.address) found({ ...whole, address: whole.address });
      else if (whole) failed(new Error(`${program}: ${said}`));
    });
    child.on('error', failed);
    child.on('exit', (code) => failed(new Error(`${program} ended with ${code}: ${complaints}`)));
  });
}

function jobsIn(folder: string): string {
  const jobs = join(folder, 'jobs');
  for (const job of examples) cpSync(join(root, 'examples', job), join(jobs, job), { recursive: true });
  return jobs;
}

export async function serve(options: { lan?: boolean } = {}): Promise<Served> {
  const folder = mkdtempSync(join(tmpdir(), 'firstdraw-page-'));
  const jobs = jobsIn(folder);
  const args = [...(page ? ['--page', resolve(page)] : []), ...(options.lan ? ['--lan'] : [])];
  const env = { ...process.env, XDG_STATE_HOME: join(folder, 'state'), FIRSTDRAW_STORE: '' };
  const run = (port: string) =>
    spawn(program, ['serve', jobs, '--no-open', '--json', '--port', port, ...args], { env });
  let child = run('0');
  const said = await started(child);
  async function kill(): Promise<void> {
    child.removeAllListeners('exit');
    if (child.exitCode !== null || child.signalCode !== null) return;
    const gone = once(child, 'exit');
    child.kill('SIGKILL');
    await gone;
  }
  return {
    address: said.address.replace(/\/$/, ''),
    lan: (said.lan?.address ?? '').replace(/\/$/, ''),
    folder: jobs,
    kill,
    async again() {
      await kill();
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

/** A test at the desk; the tests of a worker share one program and leave its jobs as they were. */
export const test = base.extend<object, { served: Served }>({
  served: [
    // biome-ignore lint/correctness/noEmptyPattern: the runner reads the names of the first argument
    async ({}, use) => {
      const served = await serve();
      await use(served);
      served.stop();
    },
    { scope: 'worker' },
  ],
  baseURL: async ({ served }, use) => use(served.address),
});
export { expect } from '@playwright/test';
