// Walking along the pipe by keyboard. Pure.
import type { Schemas } from '../lib/api';

type Run = Schemas['RunView'];
type Outlet = Schemas['OutletView'];
export type Thing = { kind: 'run' | 'outlet' | 'node'; id: string };
export type Step = 'downstream' | 'upstream' | 'next' | 'previous';

export function same(a: Thing | null, b: Thing | null): boolean {
  return a?.kind === b?.kind && a?.id === b?.id;
}

function beside(list: Thing[], thing: Thing, by: number): Thing | null {
  const at = list.findIndex((each) => same(each, thing));
  return list[(at + by + list.length) % list.length] ?? null;
}

/** What leaves a joint: runs first, then taps. */
function leaving(runs: Run[], outlets: Outlet[], node: string): Thing[] {
  return [
    ...runs.filter((run) => run.from === node).map((run) => ({ kind: 'run' as const, id: run.id })),
    ...outlets.filter((each) => each.node === node).map((each) => ({ kind: 'outlet' as const, id: each.id })),
  ];
}

function ends(runs: Run[], outlets: Outlet[], thing: Thing): { from: string; to: string } | null {
  if (thing.kind === 'node') return { from: thing.id, to: thing.id };
  if (thing.kind === 'run') return runs.find((each) => each.id === thing.id) ?? null;
  const node = outlets.find((each) => each.id === thing.id)?.node;
  return node === undefined ? null : { from: node, to: '' };
}

/** From a run or tap to the next one; null: the pipe ends here. */
export function walk(runs: Run[], outlets: Outlet[], thing: Thing, step: Step): Thing | null {
  const here = ends(runs, outlets, thing);
  if (!here) return null;
  if (step === 'downstream') return leaving(runs, outlets, here.to)[0] ?? null;
  if (step === 'upstream') {
    const above = runs.find((each) => each.to === here.from);
    return above ? { kind: 'run', id: above.id } : null;
  }
  if (thing.kind === 'node') return null;
  return beside(leaving(runs, outlets, here.from), thing, step === 'next' ? 1 : -1);
}
