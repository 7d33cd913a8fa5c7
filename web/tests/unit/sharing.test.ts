import { expect, test } from 'vitest';
import { kept, sharing } from '../../src/lib/sharing';

test('what is equal is the same object, what is not is new', () => {
  const before = { a: { x: 1 }, list: [{ y: 1 }, { y: 2 }], none: null };
  const now = { a: { x: 1 }, list: [{ y: 1 }, { y: 3 }], none: null };
  const found = kept(before, now);
  expect(found).toEqual({ a: { x: 1 }, list: [{ y: 1 }, { y: 3 }], none: null });
  expect(found).not.toBe(before);
  expect(found.a).toBe(before.a);
  expect(found.list).not.toBe(before.list);
  expect(found.list[0]).toBe(before.list[0]);
  expect(kept(found, { a: { x: 1 }, list: [{ y: 1 }, { y: 3 }], none: null })).toBe(found);
});

test('a part that came, went or took another shape is a change', () => {
  const cases: [unknown, unknown][] = [
    [{ a: 1 }, { a: 1, b: 2 }],
    [{ a: 1, b: 2 }, { a: 1 }],
    [{ a: undefined }, { b: undefined }],
    [[1, 2], [1]],
    [[1], [1, 2]],
    [[], {}],
    [{ a: null }, { a: {} }],
    [{ a: {} }, { a: null }],
    [null, { a: 1 }],
    [{ a: 1 }, null],
    ['a', 'b'],
  ];
  for (const [before, now] of cases) {
    const wanted = structuredClone(now);
    const found = kept(before, now);
    expect(found).toBe(now);
    expect(found).toEqual(wanted);
  }
});

test('a maker gives its last answer again', () => {
  let figure = '+1 %';
  const made = sharing(() => [
    { id: 'a', figure },
    { id: 'b', figure: '+2 %' },
  ]);
  const first = made();
  expect(made()).toBe(first);
  figure = '+3 %';
  const second = made();
  expect(second.map((each) => each.figure)).toEqual(['+3 %', '+2 %']);
  expect(second[1]).toBe(first[1]);
});
