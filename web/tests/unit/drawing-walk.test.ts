import { describe, expect, it } from 'vitest';
import { thingNamed } from '../../src/drawing/named';
import { walk } from '../../src/drawing/walk';
import type { Schemas } from '../../src/lib/api';

const run = (id: string, from: string, to: string) => ({ id, from, to }) as Schemas['RunView'];
const runs = [run('R1', 'HEATER', 'A'), run('R2', 'A', 'B'), run('R3', 'A', 'C')];
const outlets = [{ id: 'O1', node: 'C' } as Schemas['OutletView']];

describe('walking along the pipe', () => {
  it('goes downstream, then to the tap at the end', () => {
    expect(walk(runs, outlets, { kind: 'run', id: 'R1' }, 'downstream')).toEqual({ kind: 'run', id: 'R2' });
    expect(walk(runs, outlets, { kind: 'run', id: 'R3' }, 'downstream')).toEqual({
      kind: 'outlet',
      id: 'O1',
    });
  });
  it('stops where the pipe ends', () =>
    expect(walk(runs, outlets, { kind: 'run', id: 'R2' }, 'downstream')).toBeNull());
  it('goes back upstream, from a tap too', () => {
    expect(walk(runs, outlets, { kind: 'outlet', id: 'O1' }, 'upstream')).toEqual({ kind: 'run', id: 'R3' });
    expect(walk(runs, outlets, { kind: 'run', id: 'R1' }, 'upstream')).toBeNull();
  });
  it('changes the branch at a joint, round and round', () => {
    expect(walk(runs, outlets, { kind: 'run', id: 'R2' }, 'next')).toEqual({ kind: 'run', id: 'R3' });
    expect(walk(runs, outlets, { kind: 'run', id: 'R3' }, 'next')).toEqual({ kind: 'run', id: 'R2' });
  });
  it('is nowhere when the thing is gone', () =>
    expect(walk(runs, outlets, { kind: 'run', id: 'X' }, 'next')).toBeNull());
});

describe('a link to a place', () => {
  it('names a run or a tap', () => expect(thingNamed('run=R 1=b')).toEqual({ kind: 'run', id: 'R 1=b' }));
  it('names nothing else', () => {
    for (const mark of ['', 'run=', '=R1', 'level=1', 'R1']) expect(thingNamed(mark)).toBeNull();
  });
});
