import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Schemas } from '../../src/lib/api';
import { cellsOf, plain } from '../../src/phone/draft';
import { answers, askOf, extraAsk, typedOf } from '../../src/phone/fields';
import { familyOf } from '../../src/phone/kinds';
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
  const bare = { project: null, job: null, host: null };
  it('says project and circuit as it is printed, percent-encoded', () => {
    expect(readLabel('firstdraw:2026-031/C07')).toEqual({ ...bare, project: '2026-031', circuit: 'C07' });
    expect(readLabel('firstdraw:A%2F7%20%C3%A9%3F/C%207~')).toEqual({
      ...bare,
      project: 'A/7 é?',
      circuit: 'C 7~',
    });
    expect(readLabel('firstdraw:/C07')).toEqual({ ...bare, project: '', circuit: 'C07' });
  });

  it('may be an address that the job states, the address of the page, or a bare name', () => {
    const hotel = { project: null, job: 'hotel', circuit: 'C07' };
    expect(readLabel('https://pipes.example/j/hotel#circuit=C07')).toEqual({
      ...hotel,
      host: 'pipes.example',
    });
    expect(readLabel('HTTPS://Pipes.Example/heat/j/hotel%202/#circuit=C%207%2F1')).toEqual({
      project: null,
      job: 'hotel 2',
      circuit: 'C 7/1',
      host: 'pipes.example',
    });
    expect(readLabel('https://192.0.2.1:8450/c/hotel/C07')).toEqual({ ...hotel, host: '192.0.2.1:8450' });
    expect(readLabel(' C07 ')).toEqual({ ...bare, circuit: 'C07' });
  });

  it('of anything else is none', () => {
    for (const text of [
      'https://example.org/',
      'https://example.org/j/hotel',
      'https://example.org/j/hotel#circuit=',
      'https://example.org/j/hotel#run=R1',
      'https://',
      'firstdraw:',
      'firstdraw:a/%ZZ',
      'WIFI:S:x;;',
      '',
    ])
      expect(readLabel(text), text).toBeNull();
  });

  const jobs = [
    { id: 'hotel', name: 'Hotel', project_number: '2026-031', address: 'https://pipes.example/' },
    { id: 'clinic', name: 'Clinic', project_number: '2026-044' },
    { id: 'barn', name: 'Barn' },
  ];
  const at = (job: string, known: typeof jobs | null = jobs) => ({
    job,
    circuits: ['C07'],
    jobs: known,
    host: '192.0.2.1:8450',
  });
  const land = (text: string, where: ReturnType<typeof at>) => {
    const label = readLabel(text);
    return label && landing(label, where);
  };
  const here = { is: 'circuit', job: 'hotel', circuit: 'C07' };

  it('lands on the circuit of its own project only; another building is said', () => {
    expect(land('firstdraw:2026-031/C07', at('hotel'))).toEqual(here);
    expect(land('firstdraw:2026-031/C07', at('clinic'))).toEqual({
      is: 'other-job',
      job: 'hotel',
      name: 'Hotel',
      circuit: 'C07',
    });
    expect(land('firstdraw:x/C07', at('hotel'))).toEqual({ is: 'other-project', project: 'x' });
    expect(land('firstdraw:x/C07', at('barn'))).toEqual({ is: 'other-project', project: 'x' });
    expect(land('firstdraw:/C07', at('hotel'))).toEqual(here);
    expect(land('firstdraw:2026-031/C07', at('hotel', null))).toEqual({ is: 'cannot-tell' });
  });

  it('with an address leads on from the stated address and from the page itself, for this job alone', () => {
    expect(land('https://pipes.example/j/hotel#circuit=C07', at('hotel'))).toEqual(here);
    expect(land('https://192.0.2.1:8450/j/hotel#circuit=c07', at('hotel', null))).toEqual(here);
    expect(land('https://pipes.example/j/hotel#circuit=C07', at('clinic'))).toMatchObject({
      is: 'other-job',
      job: 'hotel',
    });
    expect(land('https://elsewhere.example/j/hotel#circuit=C07', at('hotel'))).toEqual({
      is: 'other-building',
      job: 'hotel',
      host: 'elsewhere.example',
    });
    expect(land('https://192.0.2.1:8450/c/mill/C07', at('hotel'))).toMatchObject({ is: 'other-building' });
    expect(land('https://pipes.example/j/hotel#circuit=C99', at('hotel'))).toMatchObject({
      is: 'unknown-circuit',
    });
  });

  it('typed in small letters finds its circuit; an unknown one is said', () => {
    expect(land('c07', at('hotel'))).toMatchObject({ circuit: 'C07' });
    expect(land('C99', at('hotel'))).toMatchObject({ is: 'unknown-circuit' });
  });
});

describe('families of readings', () => {
  const root = new URL('../../../', import.meta.url);
  const read = (path: string) => readFileSync(new URL(path, root), 'utf8');

  it('are taken where docs/field-tests.md says', () => {
    const rows = read('docs/field-tests.md').matchAll(
      /^\| ((?:`[a-z-]+`,? ?)+) \| (circuit|group|run|outlet) \|/gm,
    );
    const told = [...rows].flatMap(([, names = '', place]) =>
      [...names.matchAll(/`([a-z-]+)`/g)].map((name) => [name[1], place === 'outlet' ? 'run' : place]),
    );
    expect(told.length).toBeGreaterThan(20);
    expect(told.map(([name]) => [name, familyOf(name ?? '').place])).toEqual(told);
  });

  it('fail as src/prove/findings.cpp has it', () => {
    const cases = read('src/prove/findings.cpp').matchAll(/((?:case \w+:\s+)+)return "(test-[a-z-]+)"/g);
    const told = [...cases].flatMap(([, names = '', id]) =>
      [...names.matchAll(/case (\w+):/g)].map((name) => [name[1]?.replaceAll('_', '-'), id]),
    );
    expect(told.length).toBeGreaterThan(20);
    expect(told.map(([name]) => [name, familyOf(name ?? '').failure])).toEqual(told);
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
