import { type Key, word } from '../../i18n/words';
import type { Schemas } from '../../lib/api';
import type { State, Wait } from '../../phone/entry';
import type { InstrumentKind } from '../../phone/kinds';
import type { Shape } from './Sign.svelte';

interface Look {
  shape: Shape;
  key: Key;
}

export const testLooks: Record<Schemas['CircuitView']['tests'], Look> = {
  none: { shape: 'open', key: 'tests_none' },
  some: { shape: 'part', key: 'tests_some' },
  all: { shape: 'good', key: 'tests_all' },
  doubt: { shape: 'doubt', key: 'tests_doubt' },
  fail: { shape: 'bad', key: 'tests_fail' },
};

const gradeLooks: Record<string, Look> = {
  pass: { shape: 'good', key: 'grade_pass' },
  doubt: { shape: 'doubt', key: 'grade_doubt' },
  fail: { shape: 'bad', key: 'grade_fail' },
};

export function gradeLook(grade: string | null | undefined): Look {
  return gradeLooks[grade ?? ''] ?? { shape: 'open', key: 'grade_none' };
}

export const stateLooks: Record<State, Look> = {
  kept: { shape: 'part', key: 'state_kept' },
  sending: { shape: 'part', key: 'state_sending' },
  'on-record': { shape: 'good', key: 'state_on_record' },
  refused: { shape: 'bad', key: 'state_refused' },
};

export const waitKeys: Record<Wait, Key> = {
  unreachable: 'wait_unreachable',
  'not-paired': 'wait_not_paired',
  'not-allowed': 'wait_not_allowed',
  busy: 'wait_busy',
};

export const roleKeys: Record<string, Key> = {
  installer: 'sign_role_installer',
  tester: 'sign_role_tester',
  witness: 'sign_role_witness',
  owner: 'sign_role_owner',
};

export function roleName(role: string): string {
  const key = roleKeys[role];
  return key ? word(key) : role;
}

export const instrumentKeys: Record<InstrumentKind, Key> = {
  'insulation-tester': 'kind_insulation_tester',
  ohmmeter: 'kind_ohmmeter',
  'capacitance-meter': 'kind_capacitance_meter',
  'protection-tester': 'kind_protection_tester',
  'leakage-clamp': 'kind_leakage_clamp',
  voltmeter: 'kind_voltmeter',
  'clamp-meter': 'kind_clamp_meter',
  thermometer: 'kind_thermometer',
};
