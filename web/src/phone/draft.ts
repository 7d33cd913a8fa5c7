// What is typed at a circuit and not finished yet. Kept on the device with every key.
import type { Schemas } from '../lib/api';
import { kindOf } from './kinds';

export interface Typed {
  value: string;
  unit: string;
  /** The meter's range ended: ">2000 MΩ". */
  more: boolean;
  beside: Record<string, string>;
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
    if (value) cells[beside.key] = withUnit(value, beside.unit);
  }
  if (instrument && kindOf(ask.kind).instrument) {
    add('instrument', instrument.name);
    add('serial', instrument.serial);
    add('calibration_due', instrument.calibration_due);
  }
  return cells;
}

export function isEmpty(draft: Draft): boolean {
  return (
    draft.note.trim() === '' &&
    draft.photos.length === 0 &&
    Object.values(draft.typed).every((typed) => !typed.value.trim())
  );
}
