// The drawing at a moment of a simulated week: how warm the water is.

import type { Lens } from '../drawing/lenses';
import { word } from '../i18n/words';
import type { Schemas } from '../lib/api';
import type { Units } from '../lib/choices.svelte';
import { show } from '../lib/quantity';

/** Limits of the looks, °C: round figures to read the drawing by. */
const steps_c = [45, 50, 55, 60];

function lookOf(water_c: number): string {
  return `s${1 + steps_c.filter((step) => water_c >= step).length}`;
}

export function waterLens(
  series: Schemas['Series'],
  step: number,
  units: Units,
  language: string,
): Pick<Lens, 'run' | 'tap' | 'legend'> {
  const runs = new Map(series.runs.map((run) => [run.id, run.water_c[step] ?? null]));
  const text = (value: number) => show('temperature', value, units, language);
  return {
    run: (run) => {
      const water = runs.get(run.id) ?? null;
      if (water === null) return { look: 'none', figure: '', said: word('not_known') };
      return { look: lookOf(water), figure: text(water), said: word('water_said', { water: text(water) }) };
    },
    tap: () => null,
    legend: [null, ...steps_c].map((from, index) => {
      const to = steps_c[index];
      const range =
        from === null
          ? `< ${text(to ?? 0)}`
          : to === undefined
            ? `≥ ${text(from)}`
            : `${text(from)} – ${text(to)}`;
      return { look: `s${index + 1}`, text: range };
    }),
  };
}
