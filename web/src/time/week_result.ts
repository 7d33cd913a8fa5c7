// What the page reads of a week's result, schemas/week.schema.json.
import type { Period } from './periods';

/** What a week that keeps so much would cost. */
export interface Priced {
  possible: boolean;
  cost_per_year: number | null;
  chosen: boolean;
}

export interface WeekResult {
  unmet: string[];
  stopped: boolean;
  cost_per_year: number | null;
  cost_per_year_always_on: number | null;
  saving_frac: number | null;
  seasons: {
    name: string;
    from: string;
    possible: boolean;
    groups: { group: string; entries: { days: Period['days']; from: string; hold_c: number | null }[] }[];
  }[];
  comfort_curve: (Priced & { of_targets_frac: number | null })[];
  band_curve: (Priced & { longest_in_band_h: number | null })[];
  demands: string[];
}
