// The cells that are selected in a table: from an anchor to where the cursor is. Pure.
export interface Cell {
  row: number;
  column: number;
}
export interface Span {
  anchor: Cell;
  at: Cell;
}

export function corners(span: Span): { top: number; bottom: number; left: number; right: number } {
  return {
    top: Math.min(span.anchor.row, span.at.row),
    bottom: Math.max(span.anchor.row, span.at.row),
    left: Math.min(span.anchor.column, span.at.column),
    right: Math.max(span.anchor.column, span.at.column),
  };
}

export function holds(span: Span, cell: Cell): boolean {
  const { top, bottom, left, right } = corners(span);
  return cell.row >= top && cell.row <= bottom && cell.column >= left && cell.column <= right;
}

function bounded(value: number, most: number): number {
  return Math.min(Math.max(value, 0), most);
}

/** The span after a move; `grow` keeps the anchor. */
export function moved(span: Span, by: Cell, size: { rows: number; columns: number }, grow: boolean): Span {
  const at = {
    row: bounded(span.at.row + by.row, size.rows - 1),
    column: bounded(span.at.column + by.column, size.columns - 1),
  };
  return { anchor: grow ? span.anchor : at, at };
}

/** Tab goes on to the next cell, at the end of a row to the next row. */
export function tabbed(span: Span, back: boolean, size: { rows: number; columns: number }): Span | null {
  const flat = span.at.row * size.columns + span.at.column + (back ? -1 : 1);
  if (flat < 0 || flat >= size.rows * size.columns) return null;
  const at = { row: Math.floor(flat / size.columns), column: flat % size.columns };
  return { anchor: at, at };
}
