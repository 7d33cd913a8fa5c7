// What a schedule is judged by, put together by its purpose. Pure.
import type { Schemas } from '../lib/api';

type Demand = Schemas['TriedSchedule']['comfort'][number];
export type Purpose = 'comfort' | 'hygiene' | 'limits';
type Key = 'demand_comfort' | 'demand_guideline' | 'demand_stay' | 'demand_limits';

const known: Record<string, { key: Key; purpose: Purpose }> = {
  'Hot at the taps in time': { key: 'demand_comfort', purpose: 'comfort' },
  "The guideline's temperature at all times": { key: 'demand_guideline', purpose: 'hygiene' },
  'Not too long in the growth band': { key: 'demand_stay', purpose: 'hygiene' },
  'Not above what pipe, cable and taps bear': { key: 'demand_limits', purpose: 'limits' },
};

export interface Told extends Demand {
  /** Our word for it; null: only the server's. */
  key: Key | null;
}

/** In the order comfort, hygiene, limits; what is not known by name is a limit. */
export function byPurpose(demands: Demand[]): { purpose: Purpose; demands: Told[] }[] {
  return (['comfort', 'hygiene', 'limits'] as const).flatMap((purpose) => {
    const mine = demands
      .filter((each) => (known[each.name]?.purpose ?? 'limits') === purpose)
      .map((each) => ({ ...each, key: known[each.name]?.key ?? null }));
    return mine.length ? [{ purpose, demands: mine }] : [];
  });
}
