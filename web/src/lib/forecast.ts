// What the page reads of a simulation's result, schemas/forecast.schema.json.
interface Spread {
  p5: number | null;
  p50: number | null;
  p95: number | null;
}

export interface Forecast {
  days: number | null;
  taps: {
    tap: string;
    outlet: string;
    hot_after_s: Spread;
    hot_in_10_s_frac: number | null;
    hot_in_30_s_frac: number | null;
  }[];
  runs: {
    id: string;
    min_c: number | null;
    band_hours_per_day: number | null;
    longest_in_band_s: number | null;
  }[];
  building: {
    cable_kwh_per_day: number | null;
    hot_in_10_s_frac: number | null;
    wasted_litres_per_day: number | null;
  };
  advice: { wrong: string; remedy: string; run: string | null; group: string | null; tap: string | null }[];
}
