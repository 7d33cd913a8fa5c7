// From what was typed to entries that wait: each in one transaction with the draft it came from.
import type { Schemas } from '../lib/api';
import { Full, finish, type NewEntry } from './device';
import type { Draft, Take } from './draft';
import { newId, rfc3339 } from './moment';
import { changed, wake } from './sender';
import { storage } from './storage.svelte';

export interface Finished {
  job: string;
  circuit: string;
  label: string;
  record: Omit<Schemas['NewRecord'], 'entry' | 'files' | 'at'>;
  files?: { name: string; type: string; bytes: string; blob?: Blob }[];
  correctsEntry?: string;
}

function entryOf(done: Finished, now: Date): NewEntry {
  return {
    entry: newId(),
    job: done.job,
    circuit: done.circuit,
    label: done.label,
    record: { ...done.record, at: rfc3339(now) },
    correctsEntry: done.correctsEntry ?? null,
    files: (done.files ?? []).map(({ name, type, bytes }) => ({ name, type, bytes, sha256: null })),
    state: 'kept',
    tries: 0,
    notBefore: 0,
    wait: null,
    number: null,
    hash: '',
    problems: [],
    madeAt: now.getTime(),
    doneAt: null,
  };
}

/** Kept on this device when it returns, and taken out of the draft at `key`, of which the rest is answered. Throws Full
 * when there is no room and Taken when another tab kept it: then nothing changed. */
export async function keepEntry(done: Finished, key?: string, take?: Take): Promise<Draft> {
  const blobs = new Map(
    (done.files ?? []).flatMap((file) => (file.blob ? [[file.bytes, file.blob] as const] : [])),
  );
  let rest: Draft;
  try {
    rest = await finish(entryOf(done, new Date()), blobs, key, take);
    storage.full = false;
  } catch (error) {
    if (error instanceof Full) storage.full = true;
    throw error;
  }
  void storage.ask();
  changed();
  wake();
  return rest;
}
