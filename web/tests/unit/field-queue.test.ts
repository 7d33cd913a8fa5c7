import 'fake-indexeddb/auto';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { Schemas } from '../../src/lib/api';
import * as device from '../../src/phone/device';
import { type Draft, emptyDraft, merged, takeNote } from '../../src/phone/draft';
import type { Entry, Outcome } from '../../src/phone/entry';
import { type Carrier, type FileOutcome, Queue, type Shelf } from '../../src/phone/queue';
import { entryNamed } from './field-example';

const shelf: Shelf = { all: device.allEntries, put: device.putEntry, bytes: device.bytesOf };

/** A book that makes one record of one entry, behind a connection that may fail before or after it got the request. */
class Book implements Carrier {
  records: Schemas['NewRecord'][] = [];
  files = new Set<string>();
  requests = 0;
  fate: (request: number) => 'through' | 'before' | 'after' = () => 'through';
  refuse: (record: Schemas['NewRecord']) => Outcome | null = () => null;

  async file(blob: Blob): Promise<FileOutcome> {
    const fate = this.fate(this.requests++);
    if (fate === 'before') return lost;
    const sha256 = `sha-${await blob.text()}`;
    this.files.add(sha256);
    return fate === 'after' ? lost : { is: 'stored', sha256 };
  }

  async record(_: string, record: Schemas['NewRecord']): Promise<Outcome> {
    const fate = this.fate(this.requests++);
    if (fate === 'before') return lost;
    const refused = this.refuse(record);
    if (refused) return refused;
    let at = this.records.findIndex((each) => each.entry === record.entry);
    if (at < 0) at = this.records.push(record) - 1;
    return fate === 'after' ? lost : { is: 'kept', number: at + 1, hash: `h${at + 1}` };
  }
}
const lost: Outcome = { is: 'later', wait: 'unreachable', afterMs: null };

async function keep(entry: device.NewEntry, files = new Map<string, Blob>()): Promise<void> {
  await device.finish(entry, files);
}

/** In memory: as many rounds as a random network takes, quickly. */
function memory(entries: Entry[], bytes: Map<string, Blob>): Shelf {
  return {
    all: async () => entries.map((entry) => structuredClone(entry)),
    put: async (entry) => {
      entries[entry.seq - 1] = structuredClone(entry);
      return true;
    },
    bytes: async (key) => bytes.get(key),
  };
}

function queueTo(book: Carrier, now = { at: 0 }, from = shelf): Queue {
  return new Queue(from, book, { now: () => now.at, chance: () => 0 }, () => undefined);
}

/** Runs the queue over and over, each time when it asks to be run. */
async function drain(queue: Queue, now: { at: number }): Promise<void> {
  for (let rounds = 0; rounds < 2000; ++rounds) {
    const at = await queue.run();
    if (at === null) return;
    now.at = at;
  }
  throw new Error('the queue does not come to an end');
}

/** A small generator with a seed, so that a failure can be repeated. */
function chance(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

vi.setConfig({ testTimeout: 30_000 });
beforeEach(() => device.forgetAll());

describe('the queue', () => {
  it('sends in order and knows the number of each record', async () => {
    const book = new Book();
    for (const name of ['a', 'b', 'c']) await keep(entryNamed(name));
    expect(await queueTo(book).run()).toBeNull();
    expect(book.records.map((record) => record.entry)).toEqual(['a', 'b', 'c']);
    expect((await device.allEntries()).map((entry) => entry.number)).toEqual([1, 2, 3]);
  });

  it('sends files first, once each, and lets their bytes go afterwards', async () => {
    const book = new Book();
    const files = [{ name: 'p.jpg', type: 'image/jpeg', bytes: 'photo/1', sha256: null }];
    await keep(entryNamed('a', { files }), new Map([['photo/1', new Blob(['one'])]]));
    book.fate = (request) => (request === 1 ? 'after' : 'through');
    const now = { at: 0 };
    await drain(queueTo(book, now), now);
    expect(book.requests).toBe(3); // the file, the record whose answer was lost, the record again
    expect(book.records[0]?.files).toEqual([{ name: 'p.jpg', sha256: 'sha-one' }]);
    expect(await device.bytesOf('photo/1')).toBeUndefined();
  });

  it('sends files again when the server no longer has them', async () => {
    const book = new Book();
    const files = [{ name: 'p.jpg', type: 'image/jpeg', bytes: 'photo/1', sha256: null }];
    await keep(entryNamed('a', { files }), new Map([['photo/1', new Blob(['one'])]]));
    let gone = true;
    book.refuse = () => {
      if (!gone) return null;
      gone = false;
      book.files.clear();
      return {
        is: 'refused',
        problems: [{ message: 'not here', hint: '', file: '', line: 0, field: 'files' }],
      };
    };
    const now = { at: 0 };
    await drain(queueTo(book, now), now);
    expect([...book.files]).toEqual(['sha-one']);
    expect(book.records).toHaveLength(1);
  });

  it('goes past an entry that is refused and keeps its reason', async () => {
    const book = new Book();
    await keep(entryNamed('bad'));
    await keep(entryNamed('good'));
    const problems = [{ message: 'not a value', hint: '', file: '', line: 0, field: 'value' }];
    book.refuse = (record) => (record.entry === 'bad' ? { is: 'refused', problems } : null);
    await queueTo(book).run();
    expect((await device.allEntries()).map((entry) => entry.state)).toEqual(['refused', 'on-record']);
    expect((await device.allEntries())[0]?.problems).toEqual(problems);
  });

  it('lets nothing overtake while the device is not paired', async () => {
    const book = new Book();
    await keep(entryNamed('a'));
    await keep(entryNamed('b'));
    book.refuse = () => ({ is: 'later', wait: 'not-paired', afterMs: null });
    expect(await queueTo(book).run()).toBeGreaterThan(0);
    expect((await device.allEntries()).map((entry) => entry.wait)).toEqual(['not-paired', null]);
  });

  it('names the number of an entry of this device that is corrected', async () => {
    const book = new Book();
    await keep(entryNamed('a'));
    await keep(entryNamed('b', { correctsEntry: 'a' }));
    await queueTo(book).run();
    expect(book.records[1]?.corrects).toBe(1);
  });

  it('sends what was cut off while sending, as after a dead battery', async () => {
    const book = new Book();
    await keep(entryNamed('a', { state: 'sending' }));
    await queueTo(book).run();
    expect(book.records).toHaveLength(1);
  });

  it('does not bring back an entry that was thrown away', async () => {
    const book = new Book();
    await keep(entryNamed('a'));
    const [entry] = await device.allEntries();
    expect(await device.dropEntry(entry?.seq ?? 0)).toBe(true);
    await queueTo(book).run();
    expect(book.records).toHaveLength(0);
    expect(await device.allEntries()).toHaveLength(0);
  });

  it('does not throw away what may be on record already', async () => {
    await keep(entryNamed('a', { tries: 1 }));
    const [entry] = await device.allEntries();
    expect(await device.dropEntry(entry?.seq ?? 0)).toBe(false);
  });

  it.each([1, 2, 3, 4, 5])(
    'loses and doubles nothing over a network cut at random, seed %i',
    async (seed) => {
      const random = chance(seed);
      const book = new Book();
      book.fate = () => {
        const draw = random();
        return draw < 0.25 ? 'before' : draw < 0.5 ? 'after' : 'through';
      };
      const bytes = new Map<string, Blob>();
      const entries = Array.from({ length: 60 }, (_, i) => {
        const name = `e${i}`;
        const files =
          random() < 0.3 ? [{ name: `${name}.jpg`, type: 'image/jpeg', bytes: name, sha256: null }] : [];
        if (files.length > 0) bytes.set(name, new Blob([name]));
        return { ...entryNamed(name, { files }), seq: i + 1 };
      });
      const now = { at: 0 };
      await drain(queueTo(book, now, memory(entries, bytes)), now);
      expect(book.records.map((record) => record.entry)).toEqual(entries.map((entry) => entry.entry));
      expect(entries.every((entry) => entry.state === 'on-record')).toBe(true);
      for (const record of book.records)
        for (const file of record.files ?? []) expect(book.files.has(file.sha256)).toBe(true);
    },
  );
});

describe('a draft becomes an entry', () => {
  const half = { typed: {}, extra: [], note: 'half', photos: [] };

  it('in one step: it is taken out of the draft when the entry is there', async () => {
    await device.changeDraft('j/C01', () => half);
    const rest = await device.finish(entryNamed('a'), new Map(), 'j/C01', takeNote('half'));
    expect(rest.note).toBe('');
    expect((await device.draftOf('j/C01'))?.note).toBe('');
    expect(await device.allEntries()).toHaveLength(1);
  });

  it('or not at all: the same entry is never kept twice, and its draft stays', async () => {
    await device.finish(entryNamed('a'), new Map());
    await device.changeDraft('j/C01', () => half);
    await expect(device.finish(entryNamed('a'), new Map(), 'j/C01', takeNote('half'))).rejects.toThrow();
    expect((await device.draftOf('j/C01'))?.note).toBe('half');
    expect(await device.allEntries()).toHaveLength(1);
  });

  it('once, although two tabs have the same words before them', async () => {
    await device.changeDraft('j/C01', () => half);
    const both = await Promise.allSettled(
      ['a', 'b'].map((name) => device.finish(entryNamed(name), new Map(), 'j/C01', takeNote('half'))),
    );
    expect(both.map((each) => each.status).sort()).toEqual(['fulfilled', 'rejected']);
    expect(both.find((each) => each.status === 'rejected')?.reason).toBeInstanceOf(device.Taken);
    expect(await device.allEntries()).toHaveLength(1);
  });
});

describe('two tabs at one draft', () => {
  const typed = (value: string) => ({ value, unit: 'MΩ', more: false, beside: {} });
  const draft = (values: Record<string, string>, note = ''): Draft => ({
    ...emptyDraft(),
    note,
    typed: Object.fromEntries(Object.entries(values).map(([key, value]) => [key, typed(value)])),
  });

  it('each keeps what it typed and sees what the other typed', () => {
    const made = merged(draft({}), draft({ mine: '1' }), draft({ theirs: '2' }, 'words'));
    expect(made).toEqual(draft({ theirs: '2', mine: '1' }, 'words'));
  });

  it('what the other kept leaves this one too, but not what was typed over it meanwhile', () => {
    const base = draft({ a: '1', b: '2' }, 'note');
    expect(merged(base, base, draft({}))).toEqual(draft({}));
    expect(merged(base, draft({ a: '1', b: '3' }, 'note'), draft({}))).toEqual(draft({ b: '3' }));
  });

  it('in the same field the last to type wins; nothing else moves', () => {
    const base = draft({ a: '1' });
    expect(merged(base, draft({ a: '12' }), draft({ a: '13' }))).toEqual(draft({ a: '12' }));
  });
});
