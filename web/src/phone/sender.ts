// When to send: at once, when the connection or the page comes back, and after a while. One sender at a time on this
// device, whatever tabs and workers there are.
import { carrier } from './carrier';
import { allEntries, bytesOf, prune, putEntry } from './device';
import { Queue, type Shelf } from './queue';

const channelName = 'firstdraw-outbox';
const lockName = 'firstdraw-send';
const monthMs = 30 * 24 * 3600 * 1000;
const longestSleepMs = 60_000;

const shelf: Shelf = { all: allEntries, put: putEntry, bytes: bytesOf };
const channel = 'BroadcastChannel' in globalThis ? new BroadcastChannel(channelName) : null;
const listeners = new Set<() => void>();

function heard(): void {
  for (const listener of listeners) listener();
}
channel?.addEventListener('message', heard);

/** Tells every tab of this device that an entry changed. */
export function changed(): void {
  channel?.postMessage('changed');
  heard();
}

export function onChange(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

const queue = new Queue(shelf, carrier, { now: Date.now, chance: Math.random }, changed);
let alone: Promise<unknown> = Promise.resolve();

/** As the only sender. Null: somebody else is at it. */
async function onlyOne<T>(work: () => Promise<T>): Promise<T | null> {
  if (navigator.locks)
    return navigator.locks.request(lockName, { ifAvailable: true }, async (lock) =>
      lock ? await work() : null,
    );
  // Without locks only this tab is kept from itself; the server makes one record of one entry anyway.
  const turn = alone.then(work, work);
  alone = turn;
  return turn;
}

/** Sends what is due. When to come again; null: nothing waits or another tab sees to it. */
export async function sendNow(): Promise<number | null> {
  return (await onlyOne(() => queue.run())) ?? null;
}

let timer: ReturnType<typeof setTimeout> | undefined;

async function round(): Promise<void> {
  clearTimeout(timer);
  let at: number | null = null;
  try {
    at = await sendNow();
  } catch {
    at = Date.now() + longestSleepMs; // the storage of the device failed; what it holds is still there
  }
  const sleep = at === null ? longestSleepMs : Math.min(Math.max(at - Date.now(), 0), longestSleepMs);
  timer = setTimeout(round, sleep);
}

/** Something is new or the connection may be back. */
export function wake(): void {
  void round();
  void inBackground();
}

async function inBackground(): Promise<void> {
  const worker = await navigator.serviceWorker?.getRegistration();
  const sync = (worker as { sync?: { register(tag: string): Promise<void> } } | undefined)?.sync;
  await sync?.register(lockName).catch(() => undefined);
}

/** Once per page. */
export function startSending(): void {
  addEventListener('online', () => void retryAtOnce());
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') void retryAtOnce();
  });
  void prune(Date.now() - monthMs).then(wake, wake);
}

/** Nothing waits for the pause after its last try any more. */
async function allDue(): Promise<void> {
  for (const entry of await allEntries())
    if (entry.state === 'kept' && entry.notBefore > 0) await putEntry({ ...entry, notBefore: 0 });
}

export async function retryAtOnce(): Promise<void> {
  await onlyOne(allDue);
  wake();
}

/** For the service worker, which the browser wakes when there is a connection and stops soon after. `alone`: no page is
 * open that would come again after its pause. False: something still waits. */
export async function sendWhileAwake(alone: boolean): Promise<boolean> {
  const at = await onlyOne(async () => {
    if (alone) await allDue();
    return queue.run();
  });
  return at === null;
}
