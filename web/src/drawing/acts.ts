// Edits that the drawing makes, each a step that can be undone.
import { word } from '../i18n/words';
import type { Desk } from '../lib/desk.svelte';
import type { Change } from '../lib/sheet';
import type { Selection } from './selection.svelte';

export async function remove(desk: Desk, selection: Selection): Promise<void> {
  const runs = selection.ids('run');
  const outlets = selection.ids('outlet');
  const changes: Change[] = [
    ...outlets.map((row) => ({ do: 'remove' as const, table: 'outlets', row })),
    ...runs.map((row) => ({ do: 'remove' as const, table: 'runs', row })),
  ];
  if (!changes.length) return;
  const label = word('label_delete', {
    what: changes.length === 1 ? (runs[0] ?? outlets[0] ?? '') : changes.length,
  });
  if (await desk.editOpenly(label, changes)) {
    selection.clear();
    selection.at = null;
  }
}

export function moveOutlet(desk: Desk, outlet: string, node: string): Promise<boolean> {
  return desk.editOpenly(word('label_move', { id: outlet, node }), [{ do: 'move-outlet', outlet, node }]);
}
