// One technician at one circuit: what is asked, what is typed, what it is worth.
import type { Schemas } from '../lib/api';
import { choices, type Units } from '../lib/choices.svelte';
import { askCircuit, judge, keys } from './answers';
import { changeDraft, draftOf, dropBytes, Full, putBytes, Taken } from './device';
import {
  askKey,
  cellsOf,
  type Draft,
  emptyDraft,
  merged,
  nothingTyped,
  type Take,
  type Typed,
  takeNote,
  takePhoto,
  takeReadings,
} from './draft';
import type { Entry } from './entry';
import { answers, askOf, extraAsk, typedOf } from './fields';
import { keepEntry } from './keep';
import { kindOf } from './kinds';
import { newId, rfc3339 } from './moment';
import { outbox } from './outbox.svelte';
import { person } from './person.svelte';
import { Remembered } from './remembered.svelte';
import { onChange } from './sender';
import { storage } from './storage.svelte';

type Ask = Schemas['Ask'];
export type Judging = 'idle' | 'asking' | 'answered' | 'waiting';
export interface Filled {
  ask: Ask;
  key: string;
  cells: Record<string, string>;
}

const judgeAfterMs = 300;
const lateMs = 12 * 3600 * 1000;
const fullAgainMs = 4000;

export class Visit {
  readonly page: Remembered<Schemas['CircuitPage']>;
  draft = $state<Draft>(emptyDraft());
  ready = $state(false);
  judging = $state<Judging>('idle');
  verdicts = $state.raw<Record<string, Schemas['Verdict']>>({});

  private readonly draftKey: string;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private asked = 0;
  private saved: Promise<void> = Promise.resolve();
  /** The draft as this tab last saw it on the device: what differs from it was typed here. */
  private seen: Draft = emptyDraft();
  private retry: ReturnType<typeof setTimeout> | undefined;
  private readonly forget: () => void;

  constructor(
    readonly job: string,
    readonly circuit: string,
  ) {
    this.draftKey = `${job}/${circuit}`;
    this.page = new Remembered(keys.circuit(job, circuit), () => askCircuit(job, circuit));
    this.forget = onChange(() => void this.look());
    void this.load();
  }

  close(): void {
    clearTimeout(this.timer);
    clearTimeout(this.retry);
    this.forget();
  }

  private async load(): Promise<void> {
    await this.look();
    this.ready = true;
    await person.loaded;
    this.judgeSoon();
  }

  /** What another tab typed or kept meanwhile; what was typed here stays. */
  look(): Promise<void> {
    this.saved = this.saved.then(async () => {
      const kept = await draftOf(this.draftKey).catch(() => undefined);
      if (kept) this.take(kept);
    });
    return this.saved;
  }

  private take(kept: Draft): void {
    const mine = this.snapshot();
    this.draft = merged(this.seen, mine, kept);
    this.seen = kept;
  }

  get asks(): Ask[] {
    return [...(this.page.data?.asks ?? []), ...this.draft.extra];
  }

  typed(ask: Ask): Typed {
    return this.draft.typed[askKey(ask)] ?? nothingTyped(ask.unit || kindOf(ask.kind).unit);
  }

  type(ask: Ask, change: Partial<Typed>): void {
    this.draft.typed[askKey(ask)] = { ...this.typed(ask), ...change };
    this.save();
    this.judgeSoon();
  }

  save(): void {
    this.saved = this.saved.then(() => this.saveNow());
  }

  private async saveNow(): Promise<void> {
    clearTimeout(this.retry);
    const mine = this.snapshot();
    const { seen } = this;
    try {
      const kept = await changeDraft(this.draftKey, (draft) => merged(seen, mine, draft));
      this.seen = mine;
      this.take(kept);
      storage.full = false;
    } catch {
      storage.full = true;
      this.retry = setTimeout(() => this.save(), fullAgainMs);
    }
  }

  filled(): Filled[] {
    return this.asks.flatMap((ask) => {
      const instrument = kindOf(ask.kind).instrument;
      const cells = cellsOf(ask, this.typed(ask), instrument ? person.instruments[instrument] : undefined);
      return cells ? [{ ask, key: askKey(ask), cells }] : [];
    });
  }

  body(): Schemas['Readings'] {
    return { readings: this.filled().map((each) => each.cells), at: rfc3339(new Date()) };
  }

  /** What is typed, and what came on record today and is not measured again. */
  lately(): Schemas['Readings'] {
    const typed = this.body();
    const keys = new Set(this.filled().map((each) => each.key));
    const since = Date.now() - lateMs;
    const recent = this.asks
      .filter((ask) => ask.last && !keys.has(askKey(ask)) && new Date(ask.last.at).getTime() > since)
      .flatMap((ask) => ask.last?.readings.filter((each) => answers(ask, each.reading)) ?? [])
      .map((each) => each.reading);
    return { ...typed, readings: [...typed.readings, ...recent] };
  }

  judgeSoon(): void {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void this.judgeNow(), judgeAfterMs);
  }

  async judgeNow(): Promise<void> {
    const turn = ++this.asked;
    const filled = this.filled();
    if (filled.length === 0) {
      this.verdicts = {};
      this.judging = 'idle';
      return;
    }
    this.judging = 'asking';
    try {
      const verdicts = await judge(this.job, this.body());
      if (turn !== this.asked) return;
      this.verdicts = Object.fromEntries(
        filled.flatMap((each, i) => (verdicts[i] ? [[each.key, verdicts[i]]] : [])),
      );
      this.judging = 'answered';
    } catch {
      if (turn !== this.asked) return;
      this.verdicts = {};
      this.judging = 'waiting';
    }
  }

  /** All that is filled in becomes one record. */
  async keepReadings(label: string): Promise<void> {
    const filled = this.filled();
    const note = this.draft.note.trim();
    const mine = this.snapshot().typed;
    const typed = Object.fromEntries(filled.flatMap(({ key }) => (mine[key] ? [[key, mine[key]]] : [])));
    const readings = filled.map((each) => each.cells);
    await this.finish(
      {
        job: this.job,
        circuit: this.circuit,
        label,
        record: { kind: 'test', who: person.name, readings, ...(note ? { note } : {}) },
      },
      takeReadings(typed, note),
    );
    this.verdicts = {};
    this.judgeSoon();
  }

  /** Kept, and out of the draft; what another tab kept already is only taken out of the draft of this one. */
  private async finish(done: Parameters<typeof keepEntry>[0], take: Take): Promise<void> {
    this.save();
    await this.saved;
    // The draft on the device lacks what is to be taken out of it: that is no sign of another tab.
    if (storage.full) throw new Full();
    try {
      this.take(await keepEntry(done, this.draftKey, take));
    } catch (error) {
      if (!(error instanceof Taken)) throw error;
      await this.look();
    }
  }

  async addPhoto(blob: Blob, words: string): Promise<void> {
    const bytes = `photo/${newId()}`;
    await putBytes(bytes, blob);
    const name = `${this.circuit}-${rfc3339(new Date()).slice(0, 19).replaceAll(':', '')}.jpg`;
    this.draft.photos.push({ bytes, name, words });
    this.save();
  }

  async dropPhoto(bytes: string): Promise<void> {
    this.draft.photos = this.draft.photos.filter((photo) => photo.bytes !== bytes);
    this.save();
    await dropBytes(bytes);
  }

  async keepPhoto(bytes: string): Promise<void> {
    const photo = this.draft.photos.find((each) => each.bytes === bytes);
    if (!photo) return;
    await this.finish(
      {
        job: this.job,
        circuit: this.circuit,
        label: photo.words,
        record: { kind: 'photo', who: person.name, note: photo.words, place: this.circuit },
        files: [{ name: photo.name, type: 'image/jpeg', bytes }],
      },
      takePhoto(bytes),
    );
  }

  /** Words alone. */
  async keepNote(): Promise<void> {
    const note = this.draft.note.trim();
    await this.finish(this.noteOf(note), takeNote(note));
  }

  /** Of a test that is only looked at: `text` says what was seen. */
  async keepLook(ask: Ask, ok: boolean, text: string): Promise<void> {
    const key = askKey(ask);
    const typed = this.snapshot().typed[key];
    const note = this.noteOf(text);
    note.record.looked = { test: ask.kind, ok };
    await this.finish(note, takeReadings(typed ? { [key]: typed } : {}, ''));
  }

  private noteOf(note: string): Parameters<typeof keepEntry>[0] {
    const record = { kind: 'note' as const, who: person.name, note, place: this.circuit };
    return { job: this.job, circuit: this.circuit, label: note, record };
  }

  snapshot(): Draft {
    return $state.snapshot(this.draft) as Draft;
  }

  async sign(picture: Blob | null, statement: string, role: string): Promise<void> {
    await keepEntry({
      job: this.job,
      circuit: this.circuit,
      label: statement,
      record: { kind: 'sign-off', who: person.name, role, statement, place: this.circuit },
      files: picture
        ? [{ name: 'signature.png', type: 'image/png', bytes: `signature/${newId()}`, blob: picture }]
        : [],
    });
  }

  /** A refused entry comes back into the fields it was typed in; only then it leaves the list. */
  async mend(entry: Entry): Promise<void> {
    const rows = entry.record.readings ?? [];
    const asks = rows.map((cells) => this.asks.find((ask) => answers(ask, cells)) ?? askOf(cells));
    const known = new Set(this.asks.map(askKey));
    this.draft.extra.push(...asks.filter((ask) => !known.has(askKey(ask))));
    rows.forEach((cells, i) => {
      const ask = asks[i];
      if (ask) this.draft.typed[askKey(ask)] = typedOf(ask, cells);
    });
    if (entry.record.note) this.draft.note = entry.record.note;
    this.save();
    await this.saved;
    await outbox.drop(entry);
    this.judgeSoon();
  }

  /** The field of a reading: the one a test asks for, or a new one. Its key. */
  field(kind: string, place: string): string {
    const here = this.asks.filter((ask) => ask.kind === kind && !ask.looked_at);
    const fits = here.find((ask) => !place || [ask.circuit, ask.group, ask.run].includes(place)) ?? null;
    if (fits) return askKey(fits);
    const ask = extraAsk(kind, place, this.circuit, this.page.data?.circuit.group ?? null, this.units);
    this.draft.extra.push(ask);
    this.save();
    return askKey(ask);
  }

  private get units(): Units {
    if (choices.units !== 'job') return choices.units;
    return this.asks.some((ask) => ask.unit === '°F') ? 'us' : 'metric';
  }
}
