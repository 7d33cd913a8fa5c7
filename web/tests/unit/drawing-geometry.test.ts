import { describe, expect, it } from 'vitest';
import {
  along,
  boxOf,
  caught,
  type Drawing,
  lengthOf,
  levelAt,
  longest,
  nearestNode,
} from '../../src/drawing/geometry';
import { labelsOf, widthOf } from '../../src/drawing/labels';
import { fitInto, pan, reveal, toDrawing, toScreen, zoomAt } from '../../src/drawing/viewport';

const drawing: Drawing = {
  width_mm: 100,
  height_mm: 60,
  levels: [{ id: '1', name: 'One', top_mm: 0, bottom_mm: 60 }],
  runs: [
    // A corner of 30 and 40: 70 long in all.
    {
      id: 'A',
      line: [
        [0, 10],
        [30, 10],
        [30, 50],
      ],
    },
    {
      id: 'B',
      line: [
        [30, 50],
        [90, 50],
      ],
    },
  ],
  outlets: [{ id: 'O', at: [90, 54] }],
  nodes: [
    { id: 'N1', at: [30, 50] },
    { id: 'N2', at: [90, 50] },
  ],
};
const corner = drawing.runs[0]?.line ?? [];

describe('a line', () => {
  it('is as long as its pieces', () => expect(lengthOf(corner)).toBe(70));
  it('has its half way beyond the corner', () => expect(along(corner, 0.5)).toEqual({ x: 30, y: 15 }));
  it('keeps to its ends', () => {
    expect(along(corner, -1)).toEqual({ x: 0, y: 10 });
    expect(along(corner, 2)).toEqual({ x: 30, y: 50 });
  });
  it('is labelled at its longest piece', () => expect(longest(corner)?.level).toBe(false));
  it('without length has no middle to divide by', () =>
    expect(
      along(
        [
          [5, 5],
          [5, 5],
        ],
        0.5,
      ),
    ).toEqual({ x: 5, y: 5 }));
});

describe('a rubber band', () => {
  it('catches what has its middle inside, whichever way it is drawn', () => {
    const box = boxOf({ x: 95, y: 58 }, { x: 40, y: 40 });
    expect(caught(drawing, box)).toEqual({ runs: ['B'], outlets: ['O'] });
  });
});

describe('a joint', () => {
  it('lies on the level in whose band it is drawn', () => {
    const two = {
      ...drawing,
      levels: [
        { id: '2', name: 'Two', top_mm: 0, bottom_mm: 50 },
        { id: '1', name: 'One', top_mm: 50, bottom_mm: 60 },
      ],
    };
    expect(levelAt(two, 'N1')).toBe('1');
    expect(levelAt(two, 'gone')).toBeNull();
  });
});

describe('dropping a tap', () => {
  it('takes the nearest joint within reach', () =>
    expect(nearestNode(drawing, { x: 86, y: 47 }, 10)).toBe('N2'));
  it('takes none when all are too far', () => expect(nearestNode(drawing, { x: 60, y: 20 }, 10)).toBeNull());
});

describe('the part on the screen', () => {
  const all = fitInto({ left: 0, top: 0, right: 100, bottom: 60 }, 800, 600, { left: 100, rest: 20 });
  it('holds all of the drawing', () => {
    const far = toScreen(all, { x: 100, y: 60 });
    expect(far.x).toBeLessThanOrEqual(780);
    expect(far.y).toBeLessThanOrEqual(580);
    expect(toScreen(all, { x: 0, y: 0 }).x).toBeGreaterThanOrEqual(100);
  });
  it('goes there and back', () => {
    const there = toScreen(all, { x: 12, y: 34 });
    expect(toDrawing(all, there).x).toBeCloseTo(12, 9);
    expect(toDrawing(all, there).y).toBeCloseTo(34, 9);
  });
  it('zooms about the finger', () => {
    const finger = { x: 300, y: 200 };
    const under = toDrawing(all, finger);
    const near = zoomAt(all, 1.7, finger);
    expect(toScreen(near, under).x).toBeCloseTo(300, 9);
    expect(toScreen(near, under).y).toBeCloseTo(200, 9);
  });
  it('never zooms out of reason', () => {
    let view = all;
    for (let times = 0; times < 100; ++times) view = zoomAt(view, 3, { x: 0, y: 0 });
    expect(view.scale).toBe(24);
  });
  it('moves only as far as it must', () => {
    expect(reveal(all, { x: 50, y: 30 }, 800, 600)).toEqual(all);
    const away = pan(all, -5000, 0);
    const back = toScreen(reveal(away, { x: 50, y: 30 }, 800, 600), { x: 50, y: 30 });
    expect(back.x).toBeCloseTo(60, 6);
  });
});

describe('labels', () => {
  const size = { width: 2000, height: 2000 };
  it('come when there is room and go when there is none', () => {
    const far = labelsOf(drawing, { scale: 0.2, x: 0, y: 0 }, size, () => '12 W/ft', new Set());
    const near = labelsOf(drawing, { scale: 10, x: 0, y: 0 }, size, () => '12 W/ft', new Set());
    expect(far).toEqual([]);
    expect(near.map((label) => label.text).sort()).toEqual(['12 W/ft', '12 W/ft', 'A', 'B']);
  });
  it('never lie on one another', () => {
    const many: Drawing = {
      ...drawing,
      runs: Array.from({ length: 60 }, (_, index) => ({
        id: `RUN-${index}`,
        line: [
          [0, index * 2],
          [80, index * 2],
        ],
      })),
    };
    const labels = labelsOf(many, { scale: 2, x: 100, y: 100 }, size, () => '+12 %', new Set());
    for (const a of labels)
      for (const b of labels) {
        if (a === b) continue;
        const apart =
          Math.abs(a.y - b.y) >= 14 || Math.abs(a.x - b.x) >= (widthOf(a.text) + widthOf(b.text)) / 2;
        expect(apart).toBe(true);
      }
  });
});
