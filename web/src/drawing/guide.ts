// The first steps of a new job as changes of its cells. Pure.
import { type Change, freshId, type Sheet, tableOf } from '../lib/sheet';
import { type Drawing, levelAt } from './geometry';
import { nextTap } from './suggest';

export function isYoung(sheet: Sheet): boolean {
  const runs = tableOf(sheet, 'runs')?.rows.length ?? 0;
  const outlets = tableOf(sheet, 'outlets')?.rows.length ?? 0;
  return runs <= 1 && outlets === 0;
}

/** "10 ft" as 10 and "ft"; null when it is not one number and a unit. */
export function parted(text: string): { value: number; unit: string } | null {
  const match = /^\s*(\d+(?:\.\d+)?)\s*([^\d\s]+)\s*$/.exec(text);
  return match?.[1] && match[2] ? { value: Number(match[1]), unit: match[2] } : null;
}

/** Levels above those there are, until there are `count`, each a storey higher than the one below. */
export function levelChanges(
  sheet: Sheet,
  count: number,
  storey: string,
  name: (number: number) => string,
): Change[] | null {
  const rows = tableOf(sheet, 'level')?.rows ?? [];
  const height = parted(storey);
  const top = parted(rows[rows.length - 1]?.cells['elevation'] ?? '');
  if (!height || !top || (top.value !== 0 && top.unit !== height.unit)) return null;
  const taken = rows.map((row) => row.id);
  const changes: Change[] = [];
  for (let number = rows.length + 1; number <= count; ++number) {
    const id = taken.includes(String(number)) ? freshId(taken, 'L') : String(number);
    taken.push(id);
    const elevation = Number((top.value + (number - rows.length) * height.value).toFixed(3));
    changes.push({
      do: 'add',
      table: 'level',
      cells: { id, name: name(number), elevation: `${elevation} ${height.unit}` },
    });
  }
  return changes;
}

/** On every level the last joint that a run leads to. */
export function jointsByLevel(sheet: Sheet, drawing: Drawing): Map<string, string> {
  const joints = new Map<string, string>();
  for (const run of tableOf(sheet, 'runs')?.rows ?? []) {
    const to = run.cells.to;
    const level = to ? levelAt(drawing, to) : null;
    if (to && level) joints.set(level, to);
  }
  return joints;
}

/** The same taps at the joint of every level. */
export function tapChanges(sheet: Sheet, drawing: Drawing, cells: Record<string, string>): Change[] {
  const taken = (tableOf(sheet, 'outlets')?.rows ?? []).map((row) => row.id);
  return [...jointsByLevel(sheet, drawing).values()].map((node) => {
    const made = { ...nextTap(sheet, node, cells), id: freshId(taken, 'T-') };
    taken.push(made.id);
    return { do: 'add', table: 'outlets', cells: made };
  });
}
