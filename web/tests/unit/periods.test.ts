import { describe, expect, it } from 'vitest';
import {
  celsius,
  changesOf,
  clock,
  type Draft,
  daysOf,
  daysText,
  draftOf,
  draftsOf,
  minutesOf,
  periodOf,
  piecesOf,
} from '../../src/time/periods';

describe('days as the job writes them', () => {
  it('reads names, ranges and ranges over the weekend', () => {
    expect(daysOf('mon-fri')).toEqual(['mon', 'tue', 'wed', 'thu', 'fri']);
    expect(daysOf('fri-mon')).toEqual(['mon', 'fri', 'sat', 'sun']);
    expect(daysOf('sat, sun')).toEqual(['sat', 'sun']);
    expect(daysOf('all')).toHaveLength(7);
  });
  it('refuses what is no day', () => {
    expect(daysOf('someday')).toBeNull();
    expect(daysOf('mon-xyz')).toBeNull();
  });
  it('writes what it reads', () => {
    for (const text of ['all', 'mon-fri', 'mon,wed-thu,sun']) expect(daysText(daysOf(text) ?? [])).toBe(text);
  });
});

describe('times of the day', () => {
  it('reads what people write', () => {
    expect(minutesOf('22:30')).toBe(1350);
    expect(minutesOf('10 pm')).toBe(1320);
    expect(minutesOf('12 am')).toBe(0);
    expect(minutesOf('24:00')).toBe(1440);
  });
  it('refuses the rest', () => {
    for (const text of ['22', '25:00', '24:01', '7:75', 'noon']) expect(minutesOf(text)).toBeNull();
  });
  it('writes two digits', () => expect(clock(65)).toBe('01:05'));
});

const night: Draft = { row: null, days: ['sun'], from: 1320, to: 300, hold: 'setback' };

describe('a period', () => {
  it('that passes midnight lies on two days, from Sunday to Monday too', () =>
    expect(piecesOf(night)).toEqual([
      { day: 6, from: 1320, to: 1440 },
      { day: 0, from: 0, to: 300 },
    ]));
  it('goes to the server in °C', () => {
    expect(periodOf({ ...night, hold: '122 °F' })).toMatchObject({ hold: 'temperature', temperature_c: 50 });
    expect(periodOf(night)).toEqual({ days: ['sun'], start: '22:00', end: '05:00', hold: 'setback' });
    expect(periodOf({ ...night, hold: 'warm' })).toBeNull();
    expect(celsius('50')).toBeNull();
  });
});

describe('edits of the period table', () => {
  const row = (id: string, group: string) => ({
    id,
    cells: { group, days: 'all', from: '22:00', to: '05:00', hold: 'setback' },
    problems: [],
  });
  const rows = [row('#1', 'a'), row('#2', 'b'), row('#3', 'a')];
  const kept = draftOf(rows[0] ?? row('', ''));
  it('touches nothing that stays as it is', () => {
    const all = [rows[0], rows[2]].flatMap((each) => (each ? (draftOf(each) ?? []) : []));
    expect(changesOf(rows, 'a', all)).toEqual([]);
  });
  it('sets only the cell that moved, knowing what was seen', () => {
    const moved = kept ? [{ ...kept, to: 330 }] : [];
    expect(changesOf(rows.slice(0, 2), 'a', moved)).toEqual([
      { do: 'set', table: 'period', row: '#1', column: 'to', to: '05:30', was: '05:00' },
    ]);
  });
  it('removes from the last up and leaves other groups alone', () =>
    expect(changesOf(rows, 'a', []).map((change) => change.do === 'remove' && change.row)).toEqual([
      '#3',
      '#1',
    ]));
});

describe('settings of a controller as periods', () => {
  const shown = (value: number) => `${value} °C`;
  it('each in force until the next, nights over midnight', () => {
    const entries = [
      { days: daysOf('all') ?? [], from: '05:00', hold_c: 55 },
      { days: daysOf('all') ?? [], from: '22:00', hold_c: 50 },
    ];
    const drafts = draftsOf(entries, shown);
    expect(drafts).toHaveLength(2);
    expect(drafts).toContainEqual({ row: null, days: daysOf('all'), from: 300, to: 1320, hold: '55 °C' });
    expect(drafts).toContainEqual({ row: null, days: daysOf('all'), from: 1320, to: 300, hold: '50 °C' });
  });
  it('a weekend without a turn is cut into days', () => {
    const drafts = draftsOf(
      [
        { days: ['mon'], from: '06:00', hold_c: 55 },
        { days: ['fri'], from: '18:00', hold_c: null },
      ],
      shown,
    );
    const minutes = drafts.flatMap(piecesOf).reduce((sum, piece) => sum + piece.to - piece.from, 0);
    expect(minutes).toBe(7 * 1440);
    expect(drafts.some((draft) => draft.hold === 'off')).toBe(true);
  });
});
