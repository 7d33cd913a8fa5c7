// What the page reads of a week's result, schemas/week.schema.json.
import type { Period } from './periods';

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
  comfort_curve: {
    of_targets_frac: number | null;
    possible: boolean;
    cost_per_year: number | null;
    chosen: boolean;
  }[];
  band_curve: {
    longest_in_band_h: number | null;
    possible: boolean;
    cost_per_year: number | null;
    chosen: boolean;
  }[];
  demands: string[];
}
