// Kinds of reading as the readings file names them: how they are answered and with which instrument. What a reading
// means is the server's to say; this is for the shape of a field.
import type { Units } from '../lib/choices.svelte';

export type InstrumentKind =
  | 'insulation-tester'
  | 'ohmmeter'
  | 'capacitance-meter'
  | 'protection-tester'
  | 'leakage-clamp'
  | 'voltmeter'
  | 'clamp-meter'
  | 'thermometer';

export type Hazard = 'tester' | 'dead' | 'live' | 'hot';

/** Readings of one family: where they are taken (docs/field-tests.md), which finding a failed one becomes
 * (src/prove/findings.cpp) and what can hurt whoever takes them. */
interface Family {
  kinds: string[];
  place: 'circuit' | 'group' | 'run';
  failure: string;
  hazard?: Hazard;
}

const families: Family[] = [
  {
    kinds: ['insulation-resistance', 'supply-insulation'],
    place: 'circuit',
    failure: 'test-insulation',
    hazard: 'tester',
  },
  { kinds: ['earth-resistance'], place: 'circuit', failure: 'test-earth', hazard: 'dead' },
  { kinds: ['continuity'], place: 'circuit', failure: 'test-continuity', hazard: 'dead' },
  {
    kinds: ['loop-resistance', 'open-resistance', 'capacitance'],
    place: 'circuit',
    failure: 'test-length',
    hazard: 'dead',
  },
  { kinds: ['trip-current', 'trip-time'], place: 'circuit', failure: 'test-ground-fault', hazard: 'live' },
  { kinds: ['trip-button'], place: 'circuit', failure: 'test-ground-fault' },
  { kinds: ['leakage-current'], place: 'circuit', failure: 'test-leakage', hazard: 'live' },
  { kinds: ['supply-voltage', 'far-voltage'], place: 'circuit', failure: 'test-voltage', hazard: 'live' },
  { kinds: ['current'], place: 'circuit', failure: 'test-current', hazard: 'live' },
  { kinds: ['sensor-resistance'], place: 'group', failure: 'test-sensor', hazard: 'dead' },
  {
    kinds: ['pipe-temperature', 'surface-temperature'],
    place: 'run',
    failure: 'test-temperature',
    hazard: 'hot',
  },
  { kinds: ['air-temperature', 'insulation-seen'], place: 'run', failure: 'test-temperature' },
  { kinds: ['insulation-walked'], place: 'circuit', failure: 'test-temperature' },
  { kinds: ['tap-temperature'], place: 'run', failure: 'test-tap', hazard: 'hot' },
  { kinds: ['cable-marking'], place: 'circuit', failure: 'test-cable' },
  {
    kinds: ['sensor-reading', 'sensor-position', 'duty', 'set-point', 'entered-ambient', 'contactor'],
    place: 'group',
    failure: 'test-control',
  },
  { kinds: ['breaker'], place: 'circuit', failure: 'test-control' },
];
const unknown: Omit<Family, 'kinds'> = { place: 'circuit', failure: 'test-doubt' };

export function familyOf(what: string): Omit<Family, 'kinds'> {
  return families.find((family) => family.kinds.includes(what)) ?? unknown;
}

interface Kind {
  instrument: InstrumentKind | null;
  unit: string;
  /** Other units that a meter may show. */
  units: string[];
  choices: string[];
  /** The range of a meter may end here. */
  ends: boolean;
}

const yesNo = ['yes', 'no'];

function measured(instrument: InstrumentKind | null, units: string[], ends = false): Kind {
  return { instrument, unit: units[0] ?? '', units, choices: [], ends };
}
function seen(choices: string[]): Kind {
  return { instrument: null, unit: '', units: [], choices, ends: false };
}

const ohms = ['Ω', 'kΩ', 'MΩ'];
const temperatures = ['°C', '°F'];

const kinds: Record<string, Kind> = {
  'insulation-resistance': measured('insulation-tester', ['MΩ', 'GΩ', 'kΩ'], true),
  'supply-insulation': measured('insulation-tester', ['MΩ', 'GΩ', 'kΩ'], true),
  'loop-resistance': measured('ohmmeter', ohms, true),
  'open-resistance': measured('ohmmeter', ohms, true),
  'earth-resistance': measured('ohmmeter', ['Ω', 'mΩ'], true),
  'sensor-resistance': measured('ohmmeter', ['Ω', 'kΩ']),
  capacitance: measured('capacitance-meter', ['nF', 'µF']),
  'trip-current': measured('protection-tester', ['mA']),
  'trip-time': measured('protection-tester', ['ms', 's']),
  'leakage-current': measured('leakage-clamp', ['mA', 'A']),
  'supply-voltage': measured('voltmeter', ['V']),
  'far-voltage': measured('voltmeter', ['V']),
  current: measured('clamp-meter', ['A', 'mA']),
  'pipe-temperature': measured('thermometer', temperatures),
  'surface-temperature': measured('thermometer', temperatures),
  'air-temperature': measured('thermometer', temperatures),
  'tap-temperature': measured('thermometer', temperatures),
  'sensor-reading': measured(null, temperatures),
  'set-point': measured(null, temperatures),
  'entered-ambient': measured(null, temperatures),
  duty: measured(null, ['%']),
  'sensor-position': seen(['as planned', 'beside cable', 'untraced pipe', 'off pipe']),
  continuity: seen(yesNo),
  'trip-button': seen(yesNo),
  'insulation-seen': seen(yesNo),
  'insulation-walked': seen(yesNo),
  contactor: seen(yesNo),
  breaker: seen(yesNo),
};

export function kindOf(what: string): Kind {
  return kinds[what] ?? { instrument: null, unit: '', units: [], choices: [], ends: false };
}

/** Of a reading that no test asks for. */
export function usualUnit(what: string, units: Units): string {
  const kind = kindOf(what);
  return kind.units === temperatures && units === 'us' ? '°F' : kind.unit;
}
