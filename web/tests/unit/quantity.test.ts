// Expected figures are definitions (inch 25.4 mm, foot 0.3048 m, US gallon 231 cubic inches) worked by hand.
import { describe, expect, it } from 'vitest';
import { stepsOf } from '../../src/drawing/steps';
import { show } from '../../src/lib/quantity';

describe('quantities in the chosen units', () => {
  it('in US units', () => {
    expect(show('temperature', 60, 'us')).toBe('140 °F');
    expect(show('length', 3.048, 'us')).toBe('10 ft');
    expect(show('per_length', 32.808, 'us')).toBe('10.0 W/ft');
    expect(show('volume', 3.785411784, 'us')).toBe('1.00 gal');
    expect(show('size', 0.0254, 'us')).toBe('1.00 in');
    expect(show('rise', 5, 'us')).toBe('9.0 °F');
  });
  it('in metric units', () => {
    expect(show('temperature', 60, 'metric')).toBe('60.0 °C');
    expect(show('size', 0.0254, 'metric')).toBe('25 mm');
  });
  it('with the comma of the language', () => expect(show('length', 12.5, 'metric', 'es')).toBe('12,5 m'));
  it('an en dash for what is not known', () => {
    expect(show('power', null, 'us')).toBe('–');
    expect(show('power', Number.NaN, 'us')).toBe('–');
  });
});

describe('steps of a scale', () => {
  it('are round and lie within the range', () => {
    expect(stepsOf(0, 10)).toEqual([2, 4, 6, 8]);
    expect(stepsOf(2.3, 7.1)).toEqual([3, 4, 5, 6]);
  });
  it('bear a range of one value', () => expect(stepsOf(5, 5)).toHaveLength(4));
});
