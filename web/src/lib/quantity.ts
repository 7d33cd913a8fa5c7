// SI numbers of the server as text in the units a person chose. Factors are exact by definition (inch, pound, Btu_IT).
import type { Units } from './choices.svelte';

interface Shown {
  unit: string;
  digits: number;
  of: (si: number) => number;
}

type Kind =
  | 'temperature'
  | 'rise'
  | 'length'
  | 'per_length'
  | 'power'
  | 'current'
  | 'voltage'
  | 'volume'
  | 'size';

const foot_m = 0.3048;
const gallon_l = 3.785411784;
const same = (si: number) => si;

const table: Record<Kind, Record<Units, Shown>> = {
  temperature: {
    us: { unit: '°F', digits: 0, of: (c) => c * 1.8 + 32 },
    metric: { unit: '°C', digits: 1, of: same },
  },
  rise: { us: { unit: '°F', digits: 1, of: (k) => k * 1.8 }, metric: { unit: 'K', digits: 1, of: same } },
  length: {
    us: { unit: 'ft', digits: 0, of: (m) => m / foot_m },
    metric: { unit: 'm', digits: 1, of: same },
  },
  per_length: {
    us: { unit: 'W/ft', digits: 1, of: (w) => w * foot_m },
    metric: { unit: 'W/m', digits: 1, of: same },
  },
  power: { us: { unit: 'W', digits: 0, of: same }, metric: { unit: 'W', digits: 0, of: same } },
  current: { us: { unit: 'A', digits: 1, of: same }, metric: { unit: 'A', digits: 1, of: same } },
  voltage: { us: { unit: 'V', digits: 0, of: same }, metric: { unit: 'V', digits: 0, of: same } },
  volume: {
    us: { unit: 'gal', digits: 2, of: (l) => l / gallon_l },
    metric: { unit: 'l', digits: 1, of: same },
  },
  size: {
    us: { unit: 'in', digits: 2, of: (m) => m / 0.0254 },
    metric: { unit: 'mm', digits: 0, of: (m) => m * 1000 },
  },
};

const formats = new Map<string, Intl.NumberFormat>();

/** Numbers as the language writes them. Kept: making one takes longer than hundreds of uses. */
export function numbers(language: string, options: Intl.NumberFormatOptions): Intl.NumberFormat {
  const name = `${language} ${JSON.stringify(options)}`;
  const kept = formats.get(name);
  if (kept) return kept;
  const made = new Intl.NumberFormat(language, options);
  formats.set(name, made);
  return made;
}

/** "118 °F"; an en dash for what is not known. */
export function show(kind: Kind, si: number | null | undefined, units: Units, language = 'en'): string {
  if (si === null || si === undefined || !Number.isFinite(si)) return '–';
  const { unit, digits, of } = table[kind][units];
  const value = numbers(language, { minimumFractionDigits: digits, maximumFractionDigits: digits });
  return `${value.format(of(si))} ${unit}`;
}

export function unitOf(kind: Kind, units: Units): string {
  return table[kind][units].unit;
}

export function inUnits(kind: Kind, si: number, units: Units): number {
  return table[kind][units].of(si);
}
