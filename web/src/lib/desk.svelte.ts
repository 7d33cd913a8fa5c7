// One open job: what is written, what follows from it, and the one way to change it. Edits go out in turn, each with the
// revision it saw; what the server answers is shown at once.
import { word } from '../i18n/words';
import { answer, client, type Problems, Refused, type Schemas, Unreachable } from './api';
import { choices, type Units, unitsAsked } from './choices.svelte';
import { listen } from './events.svelte';
import { kept } from './sharing';
import type { Change, Problem, Sheet } from './sheet';
import { why } from './why';

export type View = Schemas['View'];
type Conflict = Schemas['Conflict'];

export interface Clash {
  label: string;
  changes: Change[];
  conflicts: Conflict[];
}

export class Desk {
  sheet = $state.raw<Sheet | null>(null);
  view = $state.raw<View | null>(null);
  /** Why there is no view: the job as it is written does not read. */
  problems = $state.raw<Problem[]>([]);
  /** There is no job of this name. */
  unknown = $state(false);
  /** The link through which this device looks shows another job. */
  elsewhere = $state(false);
  /** Refusal of an edit that no field showed. */
  trouble = $state.raw<Problems | null>(null);
  clash = $state.raw<Clash | null>(null);
  news = $state.raw<{ by: string; label: string } | null>(null);
  waiting = $state(0);
  #turn: Promise<unknown> = Promise.resolve();
  #stop: () => void;

  constructor(readonly job: string) {
    this.#stop = listen((news) => {
      if (news.kind === 'open') void this.fetch();
      if (news.kind === 'record' && news.job === job) void this.look();
      if (news.kind === 'job' && news.job === job) void this.#hear(news.revision, news.by, news.label);
    });
    void this.fetch();
  }

  close(): void {
    this.#stop();
  }

  get revision(): number {
    return this.sheet?.revision ?? 0;
  }

  get units(): Units {
    if (choices.units !== 'job') return choices.units;
    return this.sheet?.units ?? 'us';
  }

  /** The view alone, anew: in other units, or with another record in the book. */
  look(): Promise<void> {
    return this.#inTurn(() => this.#look());
  }

  fetch(): Promise<void> {
    return this.#inTurn(async () => {
      try {
        this.sheet = kept(this.sheet, await answer(client.GET('/api/jobs/{job}/sheet', this.#at())));
        await this.#look();
      } catch (error) {
        this.#keep(error);
      }
    });
  }

  /** All changes or none. Null when saved; else why not, for the field that asked. */
  edit(label: string, changes: Change[]): Promise<Problems | null> {
    return this.#change(() =>
      client.POST('/api/jobs/{job}/edits', { ...this.#at(), body: { base: this.revision, label, changes } }),
    ).then((refused) => {
      if (refused?.kind !== 'conflict' || !refused.conflicts?.length) return refused;
      this.clash = { label, changes, conflicts: refused.conflicts };
      return null;
    });
  }

  /** As edit, but a refusal is shown at the head of the page. */
  async editOpenly(label: string, changes: Change[]): Promise<boolean> {
    this.trouble = await this.edit(label, changes);
    return this.trouble === null && this.clash === null;
  }

  async undo(): Promise<void> {
    this.trouble = await this.#change(() => client.POST('/api/jobs/{job}/undo', this.#at()));
  }

  async redo(): Promise<void> {
    this.trouble = await this.#change(() => client.POST('/api/jobs/{job}/redo', this.#at()));
  }

  /** After a conflict: write it all the same, on top of what stands there now. */
  async overwrite(): Promise<void> {
    const clash = this.clash;
    this.clash = null;
    if (!clash) return;
    await this.fetch();
    await this.editOpenly(
      clash.label,
      clash.changes.map((change) => seenAnew(change, clash.conflicts)),
    );
  }

  async yield(): Promise<void> {
    this.clash = null;
    await this.fetch();
  }

  #at() {
    return { params: { path: { job: this.job } } };
  }

  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const mine = this.#turn.then(work, work);
    this.#turn = mine.catch(() => undefined);
    return mine;
  }

  #change(send: () => Parameters<typeof answer<Schemas['Edited']>>[0]): Promise<Problems | null> {
    this.waiting += 1;
    return this.#inTurn(async () => {
      try {
        this.#show(await answer(send()));
        return null;
      } catch (error) {
        if (error instanceof Refused) return error.problems;
        if (error instanceof Unreachable) return unreachable(error);
        throw error;
      } finally {
        this.waiting -= 1;
      }
    });
  }

  #show(edited: Schemas['Edited']): void {
    this.sheet = kept(this.sheet, edited.sheet);
    this.view = kept(this.view, edited.view);
    this.problems = edited.view ? [] : (edited.sheet.problems ?? []);
  }

  async #look(): Promise<void> {
    try {
      const params = { path: { job: this.job }, query: unitsAsked() };
      this.view = kept(this.view, await answer(client.GET('/api/jobs/{job}/view', { params })));
      this.problems = [];
    } catch (error) {
      this.#keep(error);
    }
  }

  #keep(error: unknown): void {
    if (!(error instanceof Refused)) return; // lost: shown by the connection, fetched when it is back
    this.view = null;
    this.unknown = error.status === 404;
    this.elsewhere = error.status === 403;
    this.problems = error.problems.problems;
  }

  async #hear(revision: number, by: string, label: string): Promise<void> {
    await this.#turn;
    if (revision <= this.revision) return;
    await this.fetch();
    this.news = { by, label };
  }
}

const unanswered = new WeakSet<Problems>();

/** Refused by nobody: the server was not there. */
export function wasUnanswered(refused: Problems | null): boolean {
  return refused !== null && unanswered.has(refused);
}

function unreachable(error: Unreachable): Problems {
  const problem = { message: why(error), hint: word('unreached_do'), file: '', line: 0, field: '' };
  const problems: Problems = { kind: 'failed', problems: [problem] };
  unanswered.add(problems);
  return problems;
}

function seenAnew(change: Change, conflicts: Conflict[]): Change {
  if (change.do !== 'set') return change;
  const met = conflicts.find(
    (each) => each.table === change.table && each.row === change.row && each.column === change.column,
  );
  return met ? { ...change, was: met.now } : change;
}
