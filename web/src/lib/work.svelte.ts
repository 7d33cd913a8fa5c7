// Long work on the server: started, watched, stopped.
import { answer, client, Refused, type Schemas } from './api';
import { listen } from './events.svelte';
import { why } from './why';

export type Task = Schemas['Task'];
type What = Schemas['NewTask']['what'];

export function goesOn(task: Task | null): boolean {
  return task?.state === 'queued' || task?.state === 'running';
}

/** The newest work of one kind on one job; calls `done` when a result is there to fetch. */
export class Work {
  task = $state.raw<Task | null>(null);
  trouble = $state('');
  #stop: () => void;
  #timer: ReturnType<typeof setInterval>;
  #given = '';

  constructor(
    readonly job: string,
    readonly what: What,
    readonly done: (task: Task) => void,
  ) {
    this.#stop = listen((news) => {
      if (news.kind === 'task' && news.task.job === job && news.task.what === what) this.#hear(news.task);
      if (news.kind === 'open') void this.#newest();
    });
    // Events may be lost with the connection: ask as well, seldom.
    this.#timer = setInterval(() => void this.#ask(), 2000);
    void this.#newest();
  }

  close(): void {
    this.#stop();
    clearInterval(this.#timer);
  }

  get running(): boolean {
    return goesOn(this.task);
  }

  async start(more: Omit<Schemas['NewTask'], 'what'> = {}): Promise<void> {
    this.trouble = '';
    try {
      const path = { params: { path: { job: this.job } } };
      this.#hear(
        await answer(client.POST('/api/jobs/{job}/tasks', { ...path, body: { what: this.what, ...more } })),
      );
    } catch (error) {
      this.trouble = why(error);
    }
  }

  async cancel(): Promise<void> {
    if (!this.task) return;
    await answer(client.DELETE('/api/tasks/{task}', { params: { path: { task: this.task.id } } }));
  }

  async #newest(): Promise<void> {
    try {
      const tasks = await answer(
        client.GET('/api/jobs/{job}/tasks', { params: { path: { job: this.job } } }),
      );
      const mine = tasks.filter((task) => task.what === this.what);
      const newest = mine[0];
      const finished = mine.find((task) => task.state === 'done');
      if (newest) this.#hear(newest);
      if (finished && finished !== newest) this.#give(finished);
    } catch (error) {
      if (error instanceof Refused) this.trouble = error.message;
    }
  }

  async #ask(): Promise<void> {
    const task = this.task;
    if (!task || !goesOn(task)) return;
    try {
      this.#hear(await answer(client.GET('/api/tasks/{task}', { params: { path: { task: task.id } } })));
    } catch {
      // the next event or question tells
    }
  }

  #hear(task: Task): void {
    const known = this.task;
    if (known?.id === task.id && !goesOn(known)) return;
    this.task = task;
    if (task.state === 'done') this.#give(task);
    if (task.state === 'failed') this.trouble = task.problem ?? task.stage;
  }

  #give(task: Task): void {
    if (this.#given === task.id) return;
    this.#given = task.id;
    this.done(task);
  }
}
