// A simulated stretch of time that grows while it is simulated. Pure.
import type { Schemas } from '../lib/api';

export type Series = Schemas['Series'];

export function stepsOf(series: Series): number {
  return series.groups[0]?.power_w.length ?? series.runs[0]?.water_c.length ?? 0;
}

/** Time at which the next record of the series belongs. */
export function nextOf(series: Series): number {
  return series.begin_s + stepsOf(series) * series.every_s;
}

type Values = (number | null)[];

function appended<T extends { id: string }>(old: T[], more: T[], put: (a: T, b: T) => T): T[] {
  const known = new Map(more.map((each) => [each.id, each]));
  return old.map((each) => {
    const next = known.get(each.id);
    return next ? put(each, next) : each;
  });
}

const warmer = <T extends { water_c: Values }>(a: T, b: T): T => ({
  ...a,
  water_c: [...a.water_c, ...b.water_c],
});

/** What is known with what came after it; null: the piece does not go on where the first one ends. */
export function joined(first: Series, more: Series): Series | null {
  if (stepsOf(more) === 0) return first;
  if (more.every_s !== first.every_s || Math.abs(more.begin_s - nextOf(first)) > 1e-6) return null;
  return {
    ...first,
    runs: appended(first.runs, more.runs, warmer),
    taps: appended(first.taps, more.taps, warmer),
    groups: appended(first.groups, more.groups, (a, b) => ({
      ...a,
      power_w: [...a.power_w, ...b.power_w],
      setpoint_c: [...a.setpoint_c, ...b.setpoint_c],
    })),
  };
}
