// Reading and changing cells of the job as it is written.
import type { Schemas } from './api';

export type Sheet = Schemas['Sheet'];
export type Table = Schemas['Table'];
export type Column = Schemas['Column'];
export type Row = Schemas['Row'];
export type Change = Schemas['Change'];
export type Problem = Schemas['Problem'];

export function tableOf(sheet: Sheet, name: string): Table | undefined {
  return sheet.tables.find((table) => table.name === name);
}

export function rowOf(sheet: Sheet, table: string, id: string): Row | undefined {
  return tableOf(sheet, table)?.rows.find((row) => row.id === id);
}

export function cellOf(sheet: Sheet, table: string, row: string, column: string): string {
  return rowOf(sheet, table, row)?.cells[column] ?? '';
}

/** A change of one cell that knows what was seen there. */
export function setCell(sheet: Sheet, table: string, row: string, column: string, to: string): Change {
  if (column === 'id') return { do: 'rename', table, row, to };
  return { do: 'set', table, row, column, to, was: cellOf(sheet, table, row, column) };
}

export function nodesOf(sheet: Sheet): string[] {
  const nodes = new Set<string>();
  for (const run of tableOf(sheet, 'runs')?.rows ?? []) {
    if (run.cells['from']) nodes.add(run.cells['from']);
    if (run.cells['to']) nodes.add(run.cells['to']);
  }
  return [...nodes];
}

/** What may stand in a cell, as far as it is known: choices, rows of another table, joints. */
export function choicesOf(sheet: Sheet, column: Column): string[] {
  if (column.kind === 'flag') return column.choices?.length ? column.choices : ['yes', 'no'];
  if (column.choices?.length) return column.choices;
  if (!column.refers_to) return [];
  if (column.refers_to === 'node' || column.refers_to === 'nodes') return nodesOf(sheet);
  return tableOf(sheet, column.refers_to)?.rows.map((row) => row.id) ?? [];
}

/** An id that no row has: the next number behind `stem`, as wide as the others. */
export function freshId(taken: Iterable<string>, stem: string): string {
  const known = new Set(taken);
  for (let number = 1; ; ++number) {
    const id = stem + String(number).padStart(2, '0');
    if (!known.has(id)) return id;
  }
}

export function problemsOfCell(row: Row, column: string): Problem[] {
  return row.problems.filter((problem) => problem.column === column);
}
