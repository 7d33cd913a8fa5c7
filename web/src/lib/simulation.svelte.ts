// The last simulation of a job: run on demand, its answers fetched once.
import { answer, client } from './api';
import type { Forecast } from './forecast';
import { type Task, Work } from './work.svelte';

export class Simulation {
  forecast = $state.raw<Forecast | null>(null);
  of = $state.raw<Task | null>(null);
  readonly work: Work;

  constructor(job: string) {
    this.work = new Work(job, 'simulate', (task) => void this.#fetch(task));
  }

  close(): void {
    this.work.close();
  }

  async #fetch(task: Task): Promise<void> {
    const path = { params: { path: { task: task.id } } };
    this.forecast = (await answer(client.GET('/api/tasks/{task}/result', path))) as unknown as Forecast;
    this.of = task;
  }
}
