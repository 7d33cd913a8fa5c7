import { word } from '../../i18n/words';
import type { Schemas } from '../../lib/api';

function unique(texts: string[]): string[] {
  return [...new Set(texts.filter(Boolean))];
}

/** Levels and spaces a circuit runs through, as its runs name them. */
export function whereOf(circuit: Schemas['CircuitView'], runs: Schemas['RunView'][]): string {
  const mine = runs.filter((run) => circuit.runs.includes(run.id));
  const levels = unique(mine.map((run) => run.level));
  const spaces = unique(mine.map((run) => run.space));
  return [levels.length > 0 ? word('level_of', { levels: levels.join(', ') }) : '', spaces.join(', ')]
    .filter(Boolean)
    .join(' · ');
}
