// Entries of this device as the page shows them.
import { allEntries, changeEntry, dropEntry } from './device';
import { again, type Entry } from './entry';
import { changed, onChange, wake } from './sender';

class Outbox {
  entries = $state.raw<Entry[]>([]);
  waiting = $derived(this.entries.filter((entry) => entry.state !== 'on-record'));

  constructor() {
    onChange(() => void this.look());
    void this.look();
  }

  async look(): Promise<void> {
    this.entries = await allEntries().catch(() => this.entries);
  }

  of(job: string, circuit?: string): Entry[] {
    return this.entries.filter((entry) => entry.job === job && (!circuit || entry.circuit === circuit));
  }

  async sendAgain(entry: Entry): Promise<void> {
    await changeEntry(entry.seq, (now) =>
      now.state === 'refused' || now.state === 'kept' ? again(now) : now,
    );
    changed();
    wake();
  }

  async drop(entry: Entry): Promise<boolean> {
    const gone = await dropEntry(entry.seq);
    changed();
    return gone;
  }
}

export const outbox = new Outbox();
