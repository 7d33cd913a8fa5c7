import { describe, expect, it } from 'vitest';
import { levelChanges, parted } from '../../src/drawing/guide';
import { plainId } from '../../src/lib/names';
import { freshId, type Sheet } from '../../src/lib/sheet';
import { asText, isBlock } from '../../src/tables/clipboard';
import { corners, moved, tabbed } from '../../src/tables/span';

const size = { rows: 3, columns: 4 };
const at = (row: number, column: number) => ({ anchor: { row, column }, at: { row, column } });

describe('moving in a table', () => {
  it('stops at the edges', () =>
    expect(moved(at(2, 3), { row: 1e6, column: 1e6 }, size, false)).toEqual(at(2, 3)));
  it('grows from its anchor', () => {
    const grown = moved(at(2, 2), { row: -2, column: -1 }, size, true);
    expect(corners(grown)).toEqual({ top: 0, bottom: 2, left: 1, right: 2 });
  });
  it('Tab goes to the next row and leaves at the end', () => {
    expect(tabbed(at(0, 3), false, size)).toEqual(at(1, 0));
    expect(tabbed(at(0, 0), true, size)).toBeNull();
    expect(tabbed(at(2, 3), false, size)).toBeNull();
  });
});

describe('the clipboard', () => {
  it('writes a block as spreadsheets do', () =>
    expect(
      asText([
        ['a', '1/2"'],
        ['b\tc', ''],
      ]),
    ).toBe('a\t"1/2"""\n"b\tc"\t'));
  it('knows a block from a word', () => {
    expect(isBlock('12 ft')).toBe(false);
    expect(isBlock('12 ft\n')).toBe(false);
    expect(isBlock('a\tb')).toBe(true);
    expect(isBlock('a\nb\n')).toBe(true);
  });
});

describe('names', () => {
  it('of folders are plain and new', () => {
    expect(plainId('Hôtel  Éden & Co.', [])).toBe('hotel-eden-co');
    expect(plainId('Hotel', ['hotel', 'hotel-2'])).toBe('hotel-3');
    expect(plainId('???', [])).toBe('job');
  });
  it('of rows are the first free ones', () => expect(freshId(['R-01', 'R-03'], 'R-')).toBe('R-02'));
});

describe('first steps', () => {
  const sheet = {
    tables: [{ name: 'level', rows: [{ id: '1', cells: { elevation: '0 ft' }, problems: [] }] }],
  } as unknown as Sheet;
  it('reads a number and its unit', () => {
    expect(parted('10 ft')).toEqual({ value: 10, unit: 'ft' });
    expect(parted('3.2m')).toEqual({ value: 3.2, unit: 'm' });
    expect(parted('10 ft 6 in')).toBeNull();
    expect(parted('10')).toBeNull();
  });
  it('puts level on level', () => {
    const changes = levelChanges(sheet, 3, '10.5 ft', (number) => `Level ${number}`) ?? [];
    expect(changes.map((change) => change.do === 'add' && change.cells['elevation'])).toEqual([
      '10.5 ft',
      '21 ft',
    ]);
  });
  it('makes none when they are all there', () => expect(levelChanges(sheet, 1, '10 ft', String)).toEqual([]));
});
