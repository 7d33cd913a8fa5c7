// What is typed at a circuit and not finished yet. Kept on the device with every key.
import type { Schemas } from '../lib/api';
import { kindOf } from './kinds';

export interface Typed {
  value: string;
  unit: string;
  /** The meter's range ended: ">2000 MΩ". */
  more: boolean;
  beside: Record<string, string>;
  /** Unit each of them was typed in: it stays when the page is switched to other units. */
  besideUnits?: Record<string, string>;
}

export interface DraftPhoto {
  bytes: string;
  name: string;
  words: string;
}

export interface Draft {
  typed: Record<string, Typed>;
  /** Readings that a diagnosis asked for and the tests do not. */
  extra: Schemas['Ask'][];
  note: string;
  photos: DraftPhoto[];
}

export function emptyDraft(): Draft {
  return { typed: {}, extra: [], note: '', photos: [] };
}

export function askKey(ask: Schemas['Ask']): string {
  return [
    ask.stage,
    ask.kind,
    ask.circuit ?? '',
    ask.group ?? '',
    ask.run ?? '',
    ask.looked_at ? ask.name : '',
  ].join('|');
}

export function nothingTyped(unit: string): Typed {
  return { value: '', unit, more: false, beside: {} };
}

/** A phone's decimal comma as the point that a readings file has; text with both stays as it is. */
export function plain(text: string): string {
  const bare = text.trim();
  return /^[+-]?\d*,\d+$/.test(bare) ? bare.replace(',', '.') : bare;
}

function withUnit(text: string, unit: string): string {
  const bare = plain(text);
  return /^[<>]?\s*[+-]?\d*\.?\d+$/.test(bare) && unit ? `${bare} ${unit}` : bare;
}

type Cells = Record<string, string>;

/** The row of a readings file that stands for what was typed; null: nothing was. */
export function cellsOf(
  ask: Schemas['Ask'],
  typed: Typed | undefined,
  instrument?: Schemas['Instrument'],
): Cells | null {
  if (!typed || ask.looked_at || !typed.value.trim()) return null;
  const cells: Cells = {
    what: ask.kind,
    value: `${typed.more ? '>' : ''}${withUnit(typed.value, typed.unit)}`,
  };
  const add = (key: string, value: string | null | undefined) => {
    if (value) cells[key] = value;
  };
  add('stage', ask.stage);
  add('circuit', ask.circuit);
  add('group', ask.group);
  add(ask.kind === 'tap-temperature' ? 'outlet' : 'run', ask.run);
  for (const beside of ask.beside) {
    const value = typed.beside[beside.key]?.trim();
    if (value) cells[beside.key] = withUnit(value, typed.besideUnits?.[beside.key] ?? beside.unit);
  }
  if (instrument && kindOf(ask.kind).instrument) {
    add('instrument', instrument.name);
    add('serial', instrument.serial);
    add('calibration_due', instrument.calibration_due);
  }
  return cells;
}

function same(a: unknown, b: unknown): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

function mergedMap<T>(base: Map<string, T>, mine: Map<string, T>, theirs: Map<string, T>): Map<string, T> {
  const made = new Map<string, T>();
  for (const key of new Set([...theirs.keys(), ...mine.keys()])) {
    const value = same(mine.get(key), base.get(key)) ? theirs.get(key) : mine.get(key);
    if (value !== undefined) made.set(key, value);
  }
  return made;
}

function byKey<T>(list: T[], key: (each: T) => string): Map<string, T> {
  return new Map(list.map((each) => [key(each), each]));
}

/** What this tab changed since `base` stays as it is in `mine`; the rest is as another tab has it in `theirs`. */
export function merged(base: Draft, mine: Draft, theirs: Draft): Draft {
  const list = <T>(of: (draft: Draft) => T[], key: (each: T) => string): T[] => [
    ...mergedMap(byKey(of(base), key), byKey(of(mine), key), byKey(of(theirs), key)).values(),
  ];
  const typed = (draft: Draft) => new Map(Object.entries(draft.typed));
  return {
    typed: Object.fromEntries(mergedMap(typed(base), typed(mine), typed(theirs))),
    extra: list((draft) => draft.extra, askKey),
    note: mine.note === base.note ? theirs.note : mine.note,
    photos: list(
      (draft) => draft.photos,
      (photo) => photo.bytes,
    ),
  };
}

/** `draft` without what is being kept; null: that is not in it any more, another tab kept it already. */
export type Take = (draft: Draft) => Draft | null;

/** All of `typed` by their keys, and the note that goes with them. */
export function takeReadings(typed: Draft['typed'], note: string): Take {
  return (draft) => {
    if (Object.entries(typed).some(([key, value]) => !same(draft.typed[key], value))) return null;
    const left = Object.entries(draft.typed).filter(([key]) => !(key in typed));
    return {
      ...draft,
      typed: Object.fromEntries(left),
      extra: draft.extra.filter((ask) => !(askKey(ask) in typed)),
      note: draft.note.trim() === note ? '' : draft.note,
    };
  };
}

export function takeNote(note: string): Take {
  return (draft) => (draft.note.trim() === note ? { ...draft, note: '' } : null);
}

export function takePhoto(bytes: string): Take {
  return (draft) =>
    draft.photos.some((photo) => photo.bytes === bytes)
      ? { ...draft, photos: draft.photos.filter((photo) => photo.bytes !== bytes) }
      : null;
}
