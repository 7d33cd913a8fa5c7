// Which cell of a table a problem is about.
import type { Problem, Table } from '../lib/sheet';
import type { Cell } from './span';

/** By the server's "outlet O-02 · count"; null: a row that is not there yet, or the table as a whole. */
export function cellOfProblem(table: Table, problem: Problem): Cell | null {
  const named = / (.+) · ([a-z_]+)$/.exec(problem.field);
  const row = table.rows.findIndex((each) => each.id === (problem.row ?? named?.[1]));
  const column = table.columns.findIndex((each) => each.key === (problem.column ?? named?.[2]));
  return row >= 0 && column >= 0 ? { row, column } : null;
}
