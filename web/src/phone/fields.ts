// Between rows of a readings file and fields of the page.
import type { Schemas } from '../lib/api';
import type { Units } from '../lib/choices.svelte';
import type { Typed } from './draft';
import { familyOf, kindOf, usualUnit } from './kinds';

type Ask = Schemas['Ask'];
type Cells = Record<string, string>;

function bare(kind: string): Ask {
  return {
    kind,
    name: kind.replaceAll('-', ' '),
    stage: '',
    stage_name: '',
    place: '',
    circuit: null,
    group: null,
    run: null,
    unit: kindOf(kind).unit,
    beside: [],
    expected: '',
    looked_at: false,
    last: null,
    grade: null,
  };
}

/** A reading that no test asks for, at `place` or, when that is empty, at this circuit. */
export function extraAsk(
  kind: string,
  place: string,
  circuit: string,
  group: string | null,
  units: Units,
): Ask {
  const ask = { ...bare(kind), unit: usualUnit(kind, units), place };
  const at = { circuit: place || circuit, group: place || group, run: place };
  const of = familyOf(kind).place;
  return { ...ask, [of]: at[of] };
}

export function answers(ask: Ask, cells: Cells): boolean {
  const same = (mine: string | null, theirs: string | undefined) => (mine ?? '') === (theirs ?? '');
  return (
    ask.kind === cells['what'] &&
    same(ask.stage, cells['stage']) &&
    same(ask.circuit, cells['circuit']) &&
    same(ask.group, cells['group']) &&
    same(ask.run, cells['run'] ?? cells['outlet'])
  );
}

const known = new Set([
  'what',
  'value',
  'stage',
  'circuit',
  'group',
  'run',
  'outlet',
  'instrument',
  'serial',
  'calibration_due',
]);

/** The field of a row that no test asks for. */
export function askOf(cells: Cells): Ask {
  return {
    ...bare(cells['what'] ?? ''),
    stage: cells['stage'] ?? '',
    circuit: cells['circuit'] ?? null,
    group: cells['group'] ?? null,
    run: cells['run'] ?? cells['outlet'] ?? null,
    beside: Object.keys(cells)
      .filter((key) => !known.has(key))
      .map((key) => ({ key, name: key.replaceAll('_', ' '), unit: '', usual: '' })),
  };
}

/** Temperatures: outdoors and in cold rooms they lie below zero. */
export function mayBeNegative(unit: string): boolean {
  return unit.startsWith('°');
}

function split(text: string): { number: string; unit: string } {
  const found = /^\s*([+-]?[\d.,]+)\s*(\S.*)?$/.exec(text);
  return found ? { number: found[1] ?? '', unit: (found[2] ?? '').trim() } : { number: text, unit: '' };
}

/** What was typed, from the row it became. */
export function typedOf(ask: Ask, cells: Cells): Typed {
  const value = cells['value'] ?? '';
  const more = value.startsWith('>');
  const { number, unit } = split(more ? value.slice(1) : value);
  const measured = kindOf(ask.kind).units.length > 0 || ask.unit !== '';
  const beside = Object.fromEntries(
    ask.beside.flatMap(({ key, unit: shown }) => {
      const text = cells[key];
      if (text === undefined) return [];
      const parts = split(text);
      return [[key, shown && parts.unit === shown ? parts.number : text]];
    }),
  );
  return measured
    ? { value: number, unit: unit || ask.unit, more, beside }
    : { value, unit: '', more: false, beside };
}
