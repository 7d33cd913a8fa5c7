// What the drawing tells at a time. Every lens gives each run a look (never colour alone: width, dashes or a sign go with
// it), a short figure beside it, and a sentence. Nothing is computed here: the figures are the server's.
import { word } from '../i18n/words';
import type { Schemas } from '../lib/api';
import type { Units } from '../lib/choices.svelte';
import type { Forecast } from '../lib/forecast';
import { inUnits, numbers, show, unitOf } from '../lib/quantity';
import { stepsOf } from './steps';

type View = Schemas['View'];
type Run = Schemas['RunView'];
type Outlet = Schemas['OutletView'];

export const lens_names = ['holds', 'loses', 'circuits', 'tests', 'hygiene', 'findings', 'hot'] as const;
export type LensName = (typeof lens_names)[number];

export interface Mark {
  look: string;
  figure: string;
  said: string;
}
export interface Lens {
  name: LensName;
  run: (run: Run) => Mark;
  tap: (outlet: Outlet) => Mark | null;
  /** `tap`: a look that only taps have. */
  legend: { look: string; text: string; sign?: string; tap?: boolean }[];
  /** It needs a simulation that is not there yet. */
  wants: boolean;
}
export interface Context {
  view: View;
  units: Units;
  language: string;
  forecast: Forecast | null;
}

const untraced = (): Mark => ({ look: 'untraced', figure: '', said: word('not_traced') });
const plain: Lens['legend'][number] = { look: 'untraced', text: '' };

export function percent(frac: number, language: string): string {
  const shown = numbers(language, { style: 'percent', signDisplay: 'exceptZero' });
  return shown.format(Math.round(frac * 100) / 100);
}

function holds({ view, units, language }: Context): Lens {
  const mark = (run: Run): Mark => {
    if (!run.traced) return untraced();
    if (run.spare_frac === null) return { look: 'none', figure: '?', said: word('not_known') };
    const figure = percent(run.spare_frac, language);
    const look = run.spare_frac < 0 ? 'bad' : run.spare_frac < 0.1 ? 'doubt' : 'good';
    const cold = show('temperature', run.worst_cold_c, units, language);
    const prob = run.holds_prob === null ? '' : word('holds_in', { share: Math.round(run.holds_prob * 100) });
    return { look, figure, said: `${word('spare_said', { spare: figure, cold })} ${prob}`.trim() };
  };
  return {
    name: 'holds',
    run: mark,
    tap: (outlet) =>
      outlet.hot_c === null
        ? null
        : { look: 'plain', figure: show('temperature', outlet.hot_c, units, language), said: '' },
    legend: [
      { look: 'good', text: word('spare_good') },
      { look: 'doubt', text: word('spare_doubt') },
      { look: 'bad', text: word('spare_bad') },
      { ...plain, text: word('not_traced') },
    ],
    wants: view.runs.length === 0,
  };
}

/** A figure of many, in five widths of line. */
function graded(
  name: LensName,
  units: Units,
  language: string,
  kind: Parameters<typeof show>[0],
  all: Run[],
  of: (run: Run) => number | null,
  what: string,
): Lens {
  const known = all.map(of).filter((value): value is number => value !== null);
  const shown = known.map((value) => inUnits(kind, value, units));
  const steps = shown.length ? stepsOf(Math.min(...shown), Math.max(...shown)) : [];
  const number = (value: number) => numbers(language, { maximumFractionDigits: 2 }).format(value);
  const classOf = (value: number) => `s${1 + steps.filter((step) => value >= step).length}`;
  const unit = unitOf(kind, units);
  const ranges = [null, ...steps].map((from, index) => {
    const to = steps[index];
    const text =
      from === null
        ? `< ${number(to ?? 0)} ${unit}`
        : to === undefined
          ? `≥ ${number(from)} ${unit}`
          : `${number(from)} – ${number(to)} ${unit}`;
    return { look: `s${index + 1}`, text };
  });
  return {
    name,
    run: (run) => {
      const value = of(run);
      if (value === null) return { look: 'none', figure: '', said: word('not_known') };
      const figure = show(kind, value, units, language);
      return { look: classOf(inUnits(kind, value, units)), figure, said: `${what} ${figure}` };
    },
    tap: () => null,
    legend: steps.length ? ranges : [],
    wants: false,
  };
}

const hues = 8;

function circuits({ view, units, language }: Context): Lens {
  const order = new Map(view.circuits.map((circuit, index) => [circuit.id, index]));
  return {
    name: 'circuits',
    run: (run) => {
      if (run.circuit === null) return untraced();
      const circuit = view.circuits.find((each) => each.id === run.circuit);
      const amps = show('current', circuit?.working_a, units, language);
      return {
        look: `c${(order.get(run.circuit) ?? 0) % hues}`,
        figure: run.circuit,
        said: word('circuit_said', { circuit: run.circuit, amps, breaker: circuit?.breaker_a ?? '' }),
      };
    },
    tap: () => null,
    legend: [
      ...view.circuits.map((circuit, index) => ({
        look: `c${index % hues}`,
        text: `${circuit.id} · ${show('length', circuit.length_m, units, language)} · ${circuit.breaker_a} A`,
      })),
      { ...plain, text: word('not_traced') },
    ],
    wants: false,
  };
}

const test_looks = { none: 'none', some: 'doubt', all: 'good', doubt: 'doubt2', fail: 'bad' } as const;
const test_signs = { none: '○', some: '◐', all: '✓', doubt: '?', fail: '✕' } as const;
export type Tests = keyof typeof test_looks;

export function testsWord(tests: Tests): string {
  return word(`tests_${tests}`);
}

function tests({ view }: Context): Lens {
  const of = new Map(view.circuits.map((circuit) => [circuit.id, circuit.tests]));
  return {
    name: 'tests',
    run: (run) => {
      if (run.circuit === null) return untraced();
      const state = of.get(run.circuit) ?? 'none';
      return {
        look: test_looks[state],
        figure: `${test_signs[state]} ${run.circuit}`,
        said: `${run.circuit}: ${testsWord(state)}`,
      };
    },
    tap: () => null,
    legend: (Object.keys(test_looks) as Tests[]).map((state) => ({
      look: test_looks[state],
      sign: test_signs[state],
      text: testsWord(state),
    })),
    wants: false,
  };
}

function hygiene(context: Context): Lens {
  const of = new Map(context.forecast?.runs.map((run) => [run.id, run]));
  const hours = (value: number) =>
    `${numbers(context.language, { maximumFractionDigits: 1 }).format(value)} h`;
  return {
    name: 'hygiene',
    run: (run) => {
      const lived = of.get(run.id);
      const band = lived?.band_hours_per_day;
      if (band === undefined || band === null) return { look: 'none', figure: '', said: word('not_known') };
      const look = band >= 8 ? 'bad' : band >= 1 ? 'doubt' : 'good';
      const low = show('temperature', lived?.min_c, context.units, context.language);
      return { look, figure: hours(band), said: word('band_said', { hours: hours(band), low }) };
    },
    tap: () => null,
    legend: [
      { look: 'good', text: word('band_good') },
      { look: 'doubt', text: word('band_doubt') },
      { look: 'bad', text: word('band_bad') },
      { look: 'none', text: word('not_known') },
    ],
    wants: context.forecast === null,
  };
}

const severity_looks = { stop: 'bad', fix: 'doubt', note: 'note' } as const;
export const severity_signs = { stop: '■', fix: '▲', note: '●' } as const;

function findings({ view }: Context): Lens {
  const mark = (open: View['findings']): Mark | null => {
    if (!open.length) return null;
    const worst =
      (['stop', 'fix', 'note'] as const).find((each) => open.some((it) => it.severity === each)) ?? 'note';
    return {
      look: severity_looks[worst],
      figure: `${severity_signs[worst]} ${open.length}`,
      said: open.map((each) => each.title).join('; '),
    };
  };
  const open = view.findings.filter((finding) => !finding.accepted);
  return {
    name: 'findings',
    run: (run) =>
      mark(open.filter((finding) => finding.run === run.id)) ?? {
        look: 'quiet',
        figure: '',
        said: word('no_findings_here'),
      },
    tap: (outlet) => mark(open.filter((finding) => finding.outlet === outlet.id)),
    legend: [
      { look: 'bad', sign: '■', text: word('severity_stop') },
      { look: 'doubt', sign: '▲', text: word('severity_fix') },
      { look: 'note', sign: '●', text: word('severity_note') },
      { look: 'quiet', text: word('no_findings_here') },
    ],
    wants: false,
  };
}

/** Share of draws that counts as all but a few: the spreads of a simulation are told the same way. */
const most_frac = 0.95;

function waitLook(taps: Forecast['taps']): string {
  const least = (of: (tap: Forecast['taps'][number]) => number | null) =>
    Math.min(...taps.map((tap) => of(tap) ?? 1));
  if (least((tap) => tap.hot_in_10_s_frac) >= most_frac) return 'good';
  return least((tap) => tap.hot_in_30_s_frac) >= most_frac ? 'doubt' : 'bad';
}

/** The wait of half the draws at the slowest of an outlet's taps, and how many that last so long are hot in time. A draw
 * that is closed before the water is hot has no wait, so the longest waits of short draws are not known. */
function hot({ forecast, language }: Context): Lens {
  const seconds = (value: number) => `${numbers(language, { maximumFractionDigits: 0 }).format(value)} s`;
  const share = (frac: number | null) => (frac === null ? '–' : `${Math.round(frac * 100)} %`);
  const known = (tap: Forecast['taps'][number]) =>
    tap.hot_in_10_s_frac !== null || tap.hot_after_s.p50 !== null;
  return {
    name: 'hot',
    run: () => ({ look: 'quiet', figure: '', said: '' }),
    tap: (outlet) => {
      if (!forecast) return null;
      const taps = forecast.taps.filter((each) => each.outlet === outlet.id && known(each));
      if (!taps.length) return { look: 'plain', figure: '', said: word('not_known') };
      const worst = taps.reduce((found, each) =>
        (each.hot_after_s.p50 ?? Number.POSITIVE_INFINITY) >
        (found.hot_after_s.p50 ?? Number.POSITIVE_INFINITY)
          ? each
          : found,
      );
      const usual = worst.hot_after_s.p50;
      const figure = usual === null ? word('closed_cold') : seconds(usual);
      const values = { ten: share(worst.hot_in_10_s_frac), thirty: share(worst.hot_in_30_s_frac) };
      const said =
        usual === null
          ? word('closed_cold_said', values)
          : word('hot_said', { wait: seconds(usual), ...values });
      return { look: waitLook(taps), figure, said };
    },
    legend: [
      { look: 'good', tap: true, text: word('hot_good') },
      { look: 'doubt', tap: true, text: word('hot_doubt') },
      { look: 'bad', tap: true, text: word('hot_bad') },
    ],
    wants: forecast === null,
  };
}

export function lensOf(name: LensName, context: Context): Lens {
  const { view, units, language } = context;
  switch (name) {
    case 'holds':
      return holds(context);
    case 'loses':
      return graded(
        name,
        units,
        language,
        'per_length',
        view.runs,
        (run) => run.loss_w_per_m,
        word('loses_said'),
      );
    case 'circuits':
      return circuits(context);
    case 'tests':
      return tests(context);
    case 'hygiene':
      return hygiene(context);
    case 'findings':
      return findings(context);
    case 'hot':
      return hot(context);
  }
}
