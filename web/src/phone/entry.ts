// A finished entry on its way from this device into the book, and what may become of it. Pure: no clock, no network.
import type { Schemas } from '../lib/api';

export type State = 'kept' | 'sending' | 'on-record' | 'refused';
/** Why an entry that is kept does not go on yet. */
export type Wait = 'unreachable' | 'not-paired' | 'not-allowed' | 'busy';

/** A file of an entry. Its bytes lie beside it until the server has them; then it has a hash. */
export interface KeptFile {
  name: string;
  type: string;
  bytes: string;
  sha256: string | null;
}

export interface Entry {
  /** Order on this device. */
  seq: number;
  entry: string;
  job: string;
  circuit: string;
  /** In a line, for the list. */
  label: string;
  record: Omit<Schemas['NewRecord'], 'entry' | 'files'>;
  /** Entry of this device that it takes the place of, whose number is not known yet. */
  correctsEntry: string | null;
  files: KeptFile[];
  state: State;
  tries: number;
  notBefore: number;
  wait: Wait | null;
  number: number | null;
  hash: string;
  problems: Schemas['Problem'][];
  madeAt: number;
  doneAt: number | null;
}

export type Outcome =
  | { is: 'kept'; number: number; hash: string }
  | { is: 'refused'; problems: Schemas['Problem'][] }
  | { is: 'failed'; problems: Schemas['Problem'][] }
  | { is: 'later'; wait: Wait; afterMs: number | null };

/** A server that fails on this very entry must not hold up the others for ever. */
export const failuresBeforeRefused = 6;
const firstWaitMs = 1000;
const longestWaitMs = 60_000;

/** Doubles from a second to a minute, spread by `chance` in 0..1 so that many devices do not come at once. */
export function backoffMs(tries: number, chance: number): number {
  const full = Math.min(firstWaitMs * 2 ** Math.min(tries, 10), longestWaitMs);
  return full * (0.5 + 0.5 * chance);
}

export function begun(entry: Entry): Entry {
  return { ...entry, state: 'sending', wait: null };
}

/** The entry after one try. */
export function tried(entry: Entry, outcome: Outcome, now: number, chance: number): Entry {
  const tries = entry.tries + 1;
  const refused = (problems: Schemas['Problem'][]): Entry => ({
    ...entry,
    tries,
    state: 'refused',
    wait: null,
    problems,
  });
  const later = (wait: Wait, ms: number): Entry => ({
    ...entry,
    tries,
    state: 'kept',
    wait,
    notBefore: now + ms,
  });
  switch (outcome.is) {
    case 'kept':
      return {
        ...entry,
        tries,
        state: 'on-record',
        wait: null,
        problems: [],
        number: outcome.number,
        hash: outcome.hash,
        doneAt: now,
      };
    case 'refused':
      return refused(outcome.problems);
    case 'failed':
      return tries >= failuresBeforeRefused
        ? refused(outcome.problems)
        : later('busy', backoffMs(tries, chance));
    case 'later':
      return later(outcome.wait, outcome.afterMs ?? backoffMs(tries, chance));
  }
}

/** Whoever holds the lock is the only sender: what still says "sending" was cut off. */
export function resumed(entry: Entry): Entry {
  return entry.state === 'sending' ? { ...entry, state: 'kept' } : entry;
}

/** Once more, now, because somebody asked: `tries` stays, the server may have it already. */
export function again(entry: Entry): Entry {
  return { ...entry, state: 'kept', wait: null, notBefore: 0, problems: [] };
}

/** The next to send: strictly in order. None: nothing waits, or the first is not due yet. */
export function next(entries: Entry[], now: number): Entry | null {
  const first = entries.find((each) => each.state === 'kept');
  return first && first.notBefore <= now ? first : null;
}

/** When to look again; null: nothing waits. */
export function nextAt(entries: Entry[]): number | null {
  return entries.find((each) => each.state === 'kept')?.notBefore ?? null;
}

/** Never sent: it can be changed or thrown away here, the book knows nothing of it. */
export function isOnlyHere(entry: Entry): boolean {
  return entry.state === 'refused' || (entry.state === 'kept' && entry.tries === 0);
}
