// Pure parts of the week: a series that grows, prices, what is asked. Expected values are worked by hand.
import { describe, expect, it } from 'vitest';
import type { Sheet } from '../../src/lib/sheet';
import { comfortChanges, sharesAsked } from '../../src/time/comfort';
import { byPurpose } from '../../src/time/demands';
import { joined, nextOf, type Series } from '../../src/time/growing';
import { isFlat, pricePieces } from '../../src/time/prices';

function series(begin_s: number, water: number[]): Series {
  return {
    every_s: 900,
    begin_s,
    runs: [{ id: 'R', water_c: water }],
    taps: [{ id: 'T', water_c: water.map((value) => value - 1) }],
    groups: [{ id: 'G', power_w: water.map(() => 5), setpoint_c: water.map(() => null) }],
  };
}

describe('a series that grows', () => {
  it('goes on where it ended', () => {
    const first = series(900, [50, 51]);
    expect(nextOf(first)).toBe(2700);
    const both = joined(first, series(2700, [52]));
    expect(both?.begin_s).toBe(900);
    expect(both?.runs[0]?.water_c).toEqual([50, 51, 52]);
    expect(both?.taps[0]?.water_c).toEqual([49, 50, 51]);
    expect(both?.groups[0]?.setpoint_c).toHaveLength(3);
  });
  it('stays as it is when nothing came', () => {
    const first = series(0, [50]);
    expect(joined(first, series(0, []))).toBe(first);
  });
  it('takes no piece that leaves a gap or has other steps', () => {
    const first = series(0, [50]);
    expect(joined(first, series(1800, [51]))).toBeNull();
    expect(joined(first, { ...series(900, [51]), every_s: 600 })).toBeNull();
  });
});

describe('prices of a week', () => {
  it('are one piece a day and change', () => {
    const night = Array.from({ length: 672 }, (_, step) => (step % 96 < 24 ? 0.1 : 0.3));
    const pieces = pricePieces(night);
    expect(pieces).toHaveLength(14);
    expect(pieces[0]).toEqual({ day: 0, from: 0, to: 360, share: 0 });
    expect(pieces[13]).toEqual({ day: 6, from: 360, to: 1440, share: 1 });
  });
  it('have no pieces when they are the same at all hours', () => {
    expect(isFlat(Array(672).fill(0.15))).toBe(true);
    expect(pricePieces(Array(672).fill(0.15))).toEqual([]);
    expect(isFlat([0.15, 0.1502])).toBe(false);
  });
});

function asked(...shares: string[]): Sheet {
  const rows = shares.map((share, index) => ({ id: `#${index + 1}`, cells: { share }, problems: [] }));
  return {
    revision: 1,
    units: 'us',
    tables: [{ name: 'comfort', title: 'Comfort', file: 'job.toml', columns: [], rows }],
    undo: null,
    redo: null,
  } as unknown as Sheet;
}

describe('comfort that is asked', () => {
  it('is eased to a share of each target', () => {
    const sheet = asked('90 %', '50%');
    const targets = sharesAsked(sheet) ?? [];
    expect(comfortChanges(sheet, targets, 0.8)).toEqual([
      { do: 'set', table: 'comfort', row: '#1', column: 'share', to: '72 %', was: '90 %' },
      { do: 'set', table: 'comfort', row: '#2', column: 'share', to: '40 %', was: '50%' },
    ]);
  });
  it('goes altogether, from the last row up', () => {
    const sheet = asked('90 %', '50 %');
    expect(comfortChanges(sheet, sharesAsked(sheet) ?? [], 0)).toEqual([
      { do: 'remove', table: 'comfort', row: '#2' },
      { do: 'remove', table: 'comfort', row: '#1' },
    ]);
  });
  it('is not guessed from what cannot be read', () => {
    expect(sharesAsked(asked('90 %', 'most'))).toBeNull();
    expect(sharesAsked(asked())).toBeNull();
  });
});

describe('what a schedule is judged by', () => {
  it('is put together by its purpose', () => {
    const told = byPurpose([
      { name: 'Hot at the taps in time', kept: true, note: '' },
      { name: 'Not too long in the growth band', kept: false, note: '9 h' },
      { name: "The guideline's temperature at all times", kept: true, note: '' },
      { name: 'of tomorrow', kept: false, note: '' },
    ]);
    expect(told.map((each) => each.purpose)).toEqual(['comfort', 'hygiene', 'limits']);
    expect(told[1]?.demands.map((each) => each.key)).toEqual(['demand_stay', 'demand_guideline']);
    expect(told[2]?.demands[0]?.key).toBeNull();
  });
});
