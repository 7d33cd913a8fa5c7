// What a new piece most likely is like: taken from what stands next to it. Pure.
import { freshId, type Row, type Sheet, tableOf } from '../lib/sheet';

function runs(sheet: Sheet): Row[] {
  return tableOf(sheet, 'runs')?.rows ?? [];
}

/** The run whose pipe a new run at this joint would have. */
export function likelyRun(sheet: Sheet, node: string): string {
  const rows = runs(sheet);
  const met = rows.find((row) => row.cells['to'] === node) ?? rows.find((row) => row.cells['from'] === node);
  return (met ?? rows[0])?.id ?? '';
}

export function levelOfNode(sheet: Sheet, node: string): string {
  const rows = runs(sheet);
  const met = rows.find((row) => row.cells['to'] === node) ?? rows.find((row) => row.cells['from'] === node);
  return met?.cells['level'] ?? '';
}

/** Cells of a run from `node`, like the one that leads there. */
export function nextRun(sheet: Sheet, node: string, length: string, to: string): Record<string, string> {
  const rows = runs(sheet);
  const like = rows.find((row) => row.id === likelyRun(sheet, node));
  const kept = ['level', 'space', 'group', 'material', 'type', 'size', 'insulation', 'thickness', 'traced'];
  const cells: Record<string, string> = {};
  for (const key of kept) if (like?.cells[key]) cells[key] = like.cells[key];
  return {
    ...cells,
    id: freshId(
      rows.map((row) => row.id),
      'R-',
    ),
    from: node,
    to,
    length,
  };
}

export function freshNode(sheet: Sheet): string {
  const taken = runs(sheet).flatMap((row) => [row.cells['from'] ?? '', row.cells['to'] ?? '']);
  return freshId(taken, 'N');
}

/** Cells of a tap at `node`, its runout like that of the last tap. */
export function nextTap(sheet: Sheet, node: string, cells: Record<string, string>): Record<string, string> {
  const rows = tableOf(sheet, 'outlets')?.rows ?? [];
  const last = rows[rows.length - 1];
  const feeding = runs(sheet).find((row) => row.id === likelyRun(sheet, node));
  const metric = sheet.units === 'metric';
  return {
    id: freshId(
      rows.map((row) => row.id),
      'T-',
    ),
    node,
    runout_material: last?.cells['runout_material'] ?? feeding?.cells['material'] ?? 'copper',
    runout_type: last?.cells['runout_type'] ?? feeding?.cells['type'] ?? '',
    runout_size: last?.cells['runout_size'] ?? (metric ? '15 mm' : '1/2'),
    ...cells,
  };
}
