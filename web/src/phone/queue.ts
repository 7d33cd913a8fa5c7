// Sends what is kept: files first, then the record, one entry after the other. Whoever calls holds the lock.
import type { Schemas } from '../lib/api';
import { begun, type Entry, next, nextAt, type Outcome, resumed, tried } from './entry';

/** Where entries lie. */
export interface Shelf {
  all(): Promise<Entry[]>;
  /** False: it is no longer there, somebody took it back. */
  put(entry: Entry): Promise<boolean>;
  bytes(key: string): Promise<Blob | undefined>;
}

export type FileOutcome = { is: 'stored'; sha256: string } | Outcome;

/** What takes them to the server. */
export interface Carrier {
  file(blob: Blob): Promise<FileOutcome>;
  record(job: string, record: Schemas['NewRecord']): Promise<Outcome>;
}

export interface Moment {
  now(): number;
  chance(): number;
}

export class Queue {
  constructor(
    private readonly shelf: Shelf,
    private readonly carrier: Carrier,
    private readonly moment: Moment,
    private readonly changed: () => void,
  ) {}

  /** Sends until nothing is due. When to come again; null: nothing waits. */
  async run(): Promise<number | null> {
    for (const entry of await this.shelf.all())
      if (entry.state === 'sending') await this.save(resumed(entry));
    while (true) {
      const all = await this.shelf.all();
      const entry = next(all, this.moment.now());
      if (!entry) return nextAt(all);
      await this.send(entry, all);
    }
  }

  private async send(entry: Entry, all: Entry[]): Promise<void> {
    let sending = begun(entry);
    if (!(await this.save(sending))) return;
    for (let at = 0; at < sending.files.length; ++at) {
      const outcome = await this.file(sending, at);
      if (outcome.is !== 'stored') return this.finish(sending, outcome);
      const files = sending.files.map((file, i) => (i === at ? { ...file, sha256: outcome.sha256 } : file));
      sending = { ...sending, files };
      await this.save(sending);
    }
    await this.finish(sending, await this.record(sending, all));
  }

  private async file(entry: Entry, at: number): Promise<FileOutcome> {
    const file = entry.files[at];
    if (file?.sha256) return { is: 'stored', sha256: file.sha256 };
    const blob = file && (await this.shelf.bytes(file.bytes));
    return blob ? this.carrier.file(blob) : lost(file?.name ?? '');
  }

  private async record(entry: Entry, all: Entry[]): Promise<Outcome> {
    const { corrects, ...record } = entry.record;
    const earlier = all.find((each) => each.entry === entry.correctsEntry);
    const number = entry.correctsEntry ? earlier?.number : corrects;
    if (entry.correctsEntry && !number) return orphan();
    return this.carrier.record(entry.job, {
      ...record,
      entry: entry.entry,
      ...(number ? { corrects: number } : {}),
      ...(entry.files.length > 0
        ? { files: entry.files.map((file) => ({ name: file.name, sha256: file.sha256 ?? '' })) }
        : {}),
    });
  }

  private async finish(entry: Entry, outcome: Outcome): Promise<void> {
    const [sent, became] = filesGone(entry, outcome);
    await this.save(tried(sent, became, this.moment.now(), this.moment.chance()));
  }

  private async save(entry: Entry): Promise<boolean> {
    const there = await this.shelf.put(entry);
    this.changed();
    return there;
  }
}

function refused(message: string, field: string): Outcome {
  return { is: 'refused', problems: [{ message, hint: '', file: '', line: 0, field }] };
}

function lost(name: string): Outcome {
  return refused(`The file ${name} is no longer on this device.`, 'files');
}

function orphan(): Outcome {
  return refused('The entry that this one corrects is not on record.', 'corrects');
}

/** The server no longer has the files of an entry: they go again with the next try. */
function filesGone(entry: Entry, outcome: Outcome): [Entry, Outcome] {
  const gone =
    outcome.is === 'refused' &&
    entry.files.some((file) => file.sha256) &&
    outcome.problems.some((problem) => problem.field.startsWith('files'));
  if (!gone) return [entry, outcome];
  const files = entry.files.map((file) => ({ ...file, sha256: null }));
  return [
    { ...entry, files },
    { is: 'failed', problems: outcome.problems },
  ];
}
