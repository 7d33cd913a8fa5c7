import type { Thing } from './walk';

/** What a link to the drawing points at: "run=R-02", "outlet=O-01", "node=T1"; null: nothing. */
export function thingNamed(mark: string): Thing | null {
  const at = mark.indexOf('=');
  const kind = mark.slice(0, at);
  const id = mark.slice(at + 1);
  if (at < 1 || !id || (kind !== 'run' && kind !== 'outlet' && kind !== 'node')) return null;
  return { kind, id };
}
