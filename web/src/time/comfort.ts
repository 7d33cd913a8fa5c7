// What comfort is asked of a week, as the job writes it, and asking for a share of it. Pure.
import { type Change, type Sheet, setCell, tableOf } from '../lib/sheet';

export interface Target {
  row: string;
  share_frac: number;
}

/** The targets with their shares; null when there are none or one cannot be read. */
export function sharesAsked(sheet: Sheet): Target[] | null {
  const rows = tableOf(sheet, 'comfort')?.rows ?? [];
  const targets = rows.flatMap((row) => {
    const share = /^\s*(\d+(?:\.\d+)?)\s*%\s*$/.exec(row.cells['share'] ?? '')?.[1];
    return share === undefined ? [] : [{ row: row.id, share_frac: Number(share) / 100 }];
  });
  return rows.length > 0 && targets.length === rows.length ? targets : null;
}

/** Each target eased to a share of itself; none of it: the targets go, from the last up so that numbered rows keep
 * their name. */
export function comfortChanges(sheet: Sheet, targets: Target[], of_targets_frac: number): Change[] {
  if (of_targets_frac === 0)
    return [...targets].reverse().map(({ row }): Change => ({ do: 'remove', table: 'comfort', row }));
  return targets.map(({ row, share_frac }) => {
    const percent = Number((share_frac * of_targets_frac * 100).toFixed(1));
    return setCell(sheet, 'comfort', row, 'share', `${percent} %`);
  });
}
