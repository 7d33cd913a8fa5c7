// The series of one simulation, fetched as it grows: each time only what is new.
import { answer, client } from '../lib/api';
import { why } from '../lib/why';
import { joined, nextOf, type Series } from './growing';

const every_s = 900;

export class SeenWeek {
  series = $state.raw<Series | null>(null);
  trouble = $state('');
  #wanted = '';
  #got = '';
  #busy = false;

  constructor(readonly task: string) {}

  /** `upTo` names what is there by now; asked for again only when it has changed. */
  async look(upTo: string): Promise<void> {
    this.#wanted = upTo;
    if (this.#busy) return;
    this.#busy = true;
    while (this.#got !== this.#wanted) {
      const now = this.#wanted;
      try {
        await this.#more();
        this.trouble = '';
      } catch (error) {
        this.trouble = why(error);
      }
      this.#got = now;
    }
    this.#busy = false;
  }

  async #more(): Promise<void> {
    const known = this.series;
    const piece = await this.#fetch(known ? { from_s: nextOf(known) } : {});
    this.series = (known && joined(known, piece)) ?? (known ? await this.#fetch({}) : piece);
  }

  #fetch(from: { from_s?: number }): Promise<Series> {
    const params = { path: { task: this.task }, query: { every_s, ...from } };
    return answer(client.GET('/api/tasks/{task}/series', { params }));
  }
}
