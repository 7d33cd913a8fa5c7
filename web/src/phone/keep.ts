// From what was typed to entries that wait: each in one transaction with the draft it came from.
import type { Schemas } from '../lib/api';
import { finish, type NewEntry } from './device';
import type { Draft } from './draft';
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

/** Kept on this device when it returns; throws Full when there is no room, and then nothing changed. */
export async function keepEntry(done: Finished, draft = '', rest: Draft | null = null): Promise<void> {
  const blobs = new Map(
    (done.files ?? []).flatMap((file) => (file.blob ? [[file.bytes, file.blob] as const] : [])),
  );
  try {
    await finish(entryOf(done, new Date()), blobs, draft, rest);
    storage.full = false;
  } catch (error) {
    storage.full = true;
    throw error;
  }
  void storage.ask();
  changed();
  wake();
}
