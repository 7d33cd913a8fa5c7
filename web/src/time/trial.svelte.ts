// Asks the server what a schedule would cost and do, one question at a time, always the newest.
import { answer, client, type Schemas } from '../lib/api';
import { unitsAsked } from '../lib/choices.svelte';
import { why } from '../lib/why';

type Tried = Schemas['TriedSchedule'];

export class Trial {
  result = $state.raw<Tried | null>(null);
  trouble = $state('');
  asking = $state(false);
  #next: Schemas['TrySchedule'] | null = null;
  #busy = false;

  constructor(readonly job: string) {}

  ask(group: string, periods: Schemas['Period'][]): void {
    this.#next = { group, periods };
    if (!this.#busy) void this.#run();
  }

  async #run(): Promise<void> {
    this.#busy = true;
    while (this.#next) {
      const body = this.#next;
      this.#next = null;
      this.asking = true;
      try {
        const params = { path: { job: this.job }, query: unitsAsked() };
        this.result = await answer(client.POST('/api/jobs/{job}/schedule', { params, body }));
        this.trouble = '';
      } catch (error) {
        this.trouble = why(error);
      }
    }
    this.asking = false;
    this.#busy = false;
  }
}
