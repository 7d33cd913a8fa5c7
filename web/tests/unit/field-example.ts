import type { NewEntry } from '../../src/phone/device';

/** A note that somebody finished and that was not sent yet. */
export function entryNamed(name: string, change: Partial<NewEntry> = {}): NewEntry {
  return {
    entry: name,
    job: 'j',
    circuit: 'C01',
    label: name,
    record: { kind: 'note', who: 'Ada Example', at: '2026-11-29T14:05:00Z', note: name },
    correctsEntry: null,
    files: [],
    state: 'kept',
    tries: 0,
    notBefore: 0,
    wait: null,
    number: null,
    hash: '',
    problems: [],
    madeAt: 0,
    doneAt: null,
    ...change,
  };
}
