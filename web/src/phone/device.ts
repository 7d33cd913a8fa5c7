// What is kept on this device, in IndexedDB. One transaction turns a draft into an entry: neither a dead battery nor a
// second tap makes two of it or none.
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import { type Draft, emptyDraft, type Take } from './draft';
import { type Entry, isOnlyHere } from './entry';

interface Answer {
  at: number;
  body: unknown;
}

interface Shape extends DBSchema {
  entries: { key: number; value: Entry; indexes: { entry: string } };
  bytes: { key: string; value: Blob };
  drafts: { key: string; value: Draft };
  answers: { key: string; value: Answer };
  choices: { key: string; value: unknown };
}

/** On the device's storage there is no room. */
export class Full extends Error {}
/** What was to be kept is no longer in the draft: another tab of this device kept it. */
export class Taken extends Error {}

let opened: Promise<IDBPDatabase<Shape>> | null = null;

export function device(): Promise<IDBPDatabase<Shape>> {
  opened ??= openDB<Shape>('firstdraw', 1, {
    upgrade(db) {
      db.createObjectStore('entries', { keyPath: 'seq', autoIncrement: true }).createIndex('entry', 'entry', {
        unique: true,
      });
      for (const store of ['bytes', 'drafts', 'answers', 'choices'] as const) db.createObjectStore(store);
    },
    terminated() {
      opened = null;
    },
  });
  opened.catch(() => {
    opened = null;
  });
  return opened;
}

/** Closes and forgets everything: for tests, and for a device that is given away. */
export async function forgetAll(): Promise<void> {
  const db = await device();
  const names = ['entries', 'bytes', 'drafts', 'answers', 'choices'] as const;
  const work = db.transaction(names, 'readwrite');
  await Promise.all([...names.map((name) => work.objectStore(name).clear()), work.done]);
}

async function orFull<T>(work: Promise<T>): Promise<T> {
  try {
    return await work;
  } catch (error) {
    if (error instanceof DOMException && error.name === 'QuotaExceededError') throw new Full(error.message);
    throw error;
  }
}

export type NewEntry = Omit<Entry, 'seq'>;

/** The entry and its files are kept and taken out of the draft at `key`, all or nothing. The draft that is left. */
export async function finish(
  entry: NewEntry,
  files: Map<string, Blob>,
  key = '',
  take: Take = (draft) => draft,
): Promise<Draft> {
  const db = await device();
  const work = db.transaction(['entries', 'bytes', 'drafts'], 'readwrite', { durability: 'strict' });
  const drafts = work.objectStore('drafts');
  const rest = take((key && (await drafts.get(key))) || emptyDraft());
  if (!rest) {
    work.abort();
    await work.done.catch(() => undefined);
    throw new Taken();
  }
  const steps: Promise<unknown>[] = [work.objectStore('entries').add(entry as Entry)];
  for (const [name, blob] of files) steps.push(work.objectStore('bytes').put(blob, name));
  if (key) steps.push(drafts.put(rest, key));
  await orFull(Promise.all([...steps, work.done]));
  return rest;
}

export async function allEntries(): Promise<Entry[]> {
  return (await device()).getAll('entries');
}

/** `entry` as it stands now; bytes that the server has are let go. False: somebody took it back meanwhile. */
export async function putEntry(entry: Entry): Promise<boolean> {
  const db = await device();
  const work = db.transaction(['entries', 'bytes'], 'readwrite');
  const entries = work.objectStore('entries');
  const there = (await entries.getKey(entry.seq)) !== undefined;
  if (there) await entries.put(entry);
  if (there && entry.state === 'on-record')
    for (const file of entry.files) await work.objectStore('bytes').delete(file.bytes);
  await orFull(work.done);
  return there;
}

export async function changeEntry(seq: number, change: (entry: Entry) => Entry): Promise<void> {
  const db = await device();
  const work = db.transaction('entries', 'readwrite');
  const entry = await work.store.get(seq);
  if (entry) await work.store.put(change(entry));
  await work.done;
}

/** Takes an entry back that the book does not have; false when it was on its way meanwhile. */
export async function dropEntry(seq: number): Promise<boolean> {
  const db = await device();
  const work = db.transaction(['entries', 'bytes'], 'readwrite');
  const entry = await work.objectStore('entries').get(seq);
  const may = entry !== undefined && isOnlyHere(entry);
  if (may) {
    for (const file of entry.files) await work.objectStore('bytes').delete(file.bytes);
    await work.objectStore('entries').delete(seq);
  }
  await work.done;
  return may;
}

/** Entries long on record leave the list; the book has them. */
export async function prune(before: number): Promise<void> {
  const db = await device();
  const work = db.transaction('entries', 'readwrite');
  for (const entry of await work.store.getAll())
    if (entry.state === 'on-record' && (entry.doneAt ?? 0) < before) await work.store.delete(entry.seq);
  await work.done;
}

export async function bytesOf(key: string): Promise<Blob | undefined> {
  return (await device()).get('bytes', key);
}

export async function putBytes(key: string, blob: Blob): Promise<void> {
  await orFull((await device()).put('bytes', blob, key));
}

export async function dropBytes(key: string): Promise<void> {
  await (await device()).delete('bytes', key);
}

export async function draftOf(key: string): Promise<Draft | undefined> {
  return (await device()).get('drafts', key);
}

/** Changes the draft at `key` as it lies on the device; what it became. */
export async function changeDraft(key: string, change: (draft: Draft) => Draft): Promise<Draft> {
  const db = await device();
  const work = db.transaction('drafts', 'readwrite');
  const draft = change((await work.store.get(key)) ?? emptyDraft());
  await orFull(Promise.all([work.store.put(draft, key), work.done]));
  return draft;
}

export async function answerOf(key: string): Promise<Answer | undefined> {
  return (await device()).get('answers', key);
}

export async function putAnswer(key: string, body: unknown, at: number): Promise<void> {
  await orFull((await device()).put('answers', { at, body }, key));
}

export async function choice<T>(key: string): Promise<T | undefined> {
  return (await (await device()).get('choices', key)) as T | undefined;
}

export async function putChoice(key: string, value: unknown): Promise<void> {
  await orFull((await device()).put('choices', value, key));
}
