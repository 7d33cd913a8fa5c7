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
