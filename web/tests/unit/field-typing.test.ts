import { describe, expect, it } from 'vitest';
import type { Schemas } from '../../src/lib/api';
import { cellsOf, plain } from '../../src/phone/draft';
import { answers, askOf, extraAsk, typedOf } from '../../src/phone/fields';
import { landing, readLabel } from '../../src/phone/label';
import { isOverdue, rfc3339 } from '../../src/phone/moment';
import { fitted } from '../../src/phone/photo';

const ask: Schemas['Ask'] = {
  kind: 'insulation-resistance',
  name: 'Insulation resistance',
  stage: 'fixed',
  stage_name: 'After fixing',
  place: '',
  circuit: 'C01',
  group: null,
  run: null,
  unit: 'MΩ',
  beside: [
    { key: 'test_voltage', name: 'Test voltage', unit: 'V', usual: '1000' },
    { key: 'cable', name: 'Cable temperature', unit: '°F', usual: '' },
  ],
  expected: '',
  looked_at: false,
  last: null,
  grade: null,
};
const meter = { name: 'tester', serial: 'SN 4', calibration_due: '2027-03-01' };

describe('what is typed', () => {
  it('becomes a row of the readings file with units', () => {
    const typed = { value: '2000', unit: 'MΩ', more: true, beside: { test_voltage: '2500', cable: '' } };
    expect(cellsOf(ask, typed, meter)).toEqual({
      what: 'insulation-resistance',
      value: '>2000 MΩ',
      stage: 'fixed',
      circuit: 'C01',
      test_voltage: '2500 V',
      instrument: 'tester',
      serial: 'SN 4',
      calibration_due: '2027-03-01',
    });
  });

  it('takes no usual value in silence', () => {
    const typed = { value: '5', unit: 'GΩ', more: false, beside: {} };
    expect(cellsOf(ask, typed)).not.toHaveProperty('test_voltage');
  });

  it('is nothing when nothing was typed', () => {
    expect(cellsOf(ask, { value: '  ', unit: 'MΩ', more: false, beside: { cable: '60' } })).toBeNull();
  });

  it('may have the decimal comma of a phone', () => {
    expect(plain('4,2')).toBe('4.2');
    expect(plain('1,234,567')).toBe('1,234,567');
    expect(plain('1.234,5')).toBe('1.234,5');
  });

  it('comes back from its row as it was', () => {
    const typed = { value: '2000', unit: 'MΩ', more: true, beside: { test_voltage: '2500' } };
    const cells = cellsOf(ask, typed) ?? {};
    expect(answers(ask, cells)).toBe(true);
    expect(typedOf(ask, cells)).toEqual(typed);
    const alone = askOf(cells);
    expect(cellsOf(alone, typedOf(alone, cells))).toEqual(cells);
  });

  it('that a diagnosis asked for has the place of its kind', () => {
    expect(extraAsk('pipe-temperature', 'R03', 'C01', 'G1', 'us')).toMatchObject({
      run: 'R03',
      circuit: null,
      unit: '°F',
    });
    expect(extraAsk('duty', '', 'C01', 'G1', 'us')).toMatchObject({ group: 'G1', circuit: null, unit: '%' });
    expect(extraAsk('far-voltage', '', 'C01', 'G1', 'us')).toMatchObject({ circuit: 'C01', unit: 'V' });
  });
});

describe('a label', () => {
  it('says project and circuit as it is printed, percent-encoded', () => {
    expect(readLabel('firstdraw:2026-031/C07')).toEqual({ project: '2026-031', job: null, circuit: 'C07' });
    expect(readLabel('firstdraw:A%2F7%20%C3%A9%3F/C%207~')).toEqual({
      project: 'A/7 é?',
      job: null,
      circuit: 'C 7~',
    });
    expect(readLabel('firstdraw:/C07')).toEqual({ project: '', job: null, circuit: 'C07' });
  });

  it('may be the address of the page or a bare name', () => {
    expect(readLabel('https://192.0.2.1:8450/c/hotel/C07')).toEqual({
      project: null,
      job: 'hotel',
      circuit: 'C07',
    });
    expect(readLabel(' C07 ')).toEqual({ project: null, job: null, circuit: 'C07' });
  });

  it('of anything else is none', () => {
    for (const text of ['https://example.org/', 'firstdraw:', 'firstdraw:a/%ZZ', 'WIFI:S:x;;', ''])
      expect(readLabel(text)).toBeNull();
  });

  const jobs = [
    { id: 'hotel', project_number: '2026-031' },
    { id: 'clinic', project_number: '2026-044' },
  ];
  it('lands on the circuit of its own project only', () => {
    const label = { project: '2026-031', job: null, circuit: 'C07' };
    expect(landing(label, 'hotel', ['C07'], jobs)).toEqual({ is: 'circuit', job: 'hotel', circuit: 'C07' });
    expect(landing(label, 'clinic', ['C07'], jobs)).toEqual({ is: 'circuit', job: 'hotel', circuit: 'C07' });
    expect(landing({ ...label, project: 'x' }, 'hotel', ['C07'], jobs)).toEqual({
      is: 'other-project',
      project: 'x',
    });
  });

  it('typed in small letters finds its circuit; an unknown one is said', () => {
    expect(landing({ project: null, job: null, circuit: 'c07' }, 'hotel', ['C07'], jobs)).toMatchObject({
      circuit: 'C07',
    });
    expect(landing({ project: null, job: null, circuit: 'C99' }, 'hotel', ['C07'], jobs)).toMatchObject({
      is: 'unknown-circuit',
    });
  });
});

describe('times and sizes', () => {
  it('a moment has its offset', () => {
    expect(rfc3339(new Date(2026, 10, 29, 14, 5))).toMatch(/^2026-11-29T14:05:00[+-]\d\d:\d\d$/);
    expect(new Date(rfc3339(new Date(1_790_000_000_000))).getTime()).toBe(1_790_000_000_000);
  });

  it('calibration is overdue the day after', () => {
    const today = new Date(2026, 10, 29);
    expect(isOverdue('2026-11-28', today)).toBe(true);
    expect(isOverdue('2026-11-29', today)).toBe(false);
    expect(isOverdue(undefined, today)).toBe(false);
  });

  it('a photo fits into 2000 px and never grows', () => {
    expect(fitted(4000, 3000)).toEqual({ width: 2000, height: 1500 });
    expect(fitted(800, 600)).toEqual({ width: 800, height: 600 });
  });
});
