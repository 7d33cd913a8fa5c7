import { describe, expect, it } from 'vitest';
import {
  again,
  backoffMs,
  begun,
  type Entry,
  failuresBeforeRefused,
  isOnlyHere,
  next,
  nextAt,
  resumed,
  tried,
} from '../../src/phone/entry';
import { entryNamed } from './field-example';

function entry(change: Partial<Entry> = {}): Entry {
  return { seq: 1, ...entryNamed('a'), ...change };
}
const problem = { message: 'no', hint: '', file: '', line: 0, field: 'value' };

describe('an entry', () => {
  it('is on record once the server says its number', () => {
    const done = tried(begun(entry()), { is: 'kept', number: 7, hash: 'ab' }, 100, 0);
    expect(done).toMatchObject({
      state: 'on-record',
      number: 7,
      hash: 'ab',
      doneAt: 100,
      tries: 1,
      wait: null,
    });
    expect(isOnlyHere(done)).toBe(false);
  });

  it('stays when the connection is lost, and waits longer each time', () => {
    const once = tried(begun(entry()), { is: 'later', wait: 'unreachable', afterMs: null }, 1000, 1);
    expect(once).toMatchObject({ state: 'kept', wait: 'unreachable', tries: 1, notBefore: 3000 });
    const twice = tried(begun(once), { is: 'later', wait: 'unreachable', afterMs: null }, 1000, 1);
    expect(twice.notBefore).toBe(5000);
  });

  it('waits as long as the server asks', () => {
    expect(tried(entry(), { is: 'later', wait: 'busy', afterMs: 9000 }, 1, 0).notBefore).toBe(9001);
  });

  it('is set aside with the reason when it is refused, and may be sent again', () => {
    const refused = tried(begun(entry()), { is: 'refused', problems: [problem] }, 0, 0);
    expect(refused).toMatchObject({ state: 'refused', problems: [problem] });
    expect(isOnlyHere(refused)).toBe(true);
    expect(again(refused)).toMatchObject({ state: 'kept', problems: [], notBefore: 0, tries: 1 });
  });

  it('that the server fails on is refused after some tries, not for ever in the way', () => {
    let now = entry();
    for (let i = 1; i < failuresBeforeRefused; ++i) {
      now = tried(begun(now), { is: 'failed', problems: [problem] }, 0, 0);
      expect(now.state).toBe('kept');
    }
    expect(tried(begun(now), { is: 'failed', problems: [problem] }, 0, 0).state).toBe('refused');
  });

  it('that was cut off while sending is sent again, and is no longer only here', () => {
    const cut = resumed(begun(entry({ tries: 1 })));
    expect(cut.state).toBe('kept');
    expect(isOnlyHere(cut)).toBe(false);
  });
});

describe('the next to send', () => {
  it('is the first that waits, in order, past those refused and on record', () => {
    const list = [
      entry({ seq: 1, state: 'on-record' }),
      entry({ seq: 2, state: 'refused' }),
      entry({ seq: 3 }),
      entry({ seq: 4 }),
    ];
    expect(next(list, 0)?.seq).toBe(3);
  });

  it('never overtakes one that waits for the connection', () => {
    const list = [entry({ seq: 1, notBefore: 500 }), entry({ seq: 2 })];
    expect(next(list, 0)).toBeNull();
    expect(nextAt(list)).toBe(500);
    expect(next(list, 500)?.seq).toBe(1);
  });

  it('is nobody when nothing waits', () => {
    expect(nextAt([entry({ state: 'refused' })])).toBeNull();
  });
});

describe('the pause', () => {
  it('doubles from about a second to a minute at most, spread over its upper half', () => {
    expect(backoffMs(1, 0)).toBe(1000);
    expect(backoffMs(1, 1)).toBe(2000);
    expect(backoffMs(50, 1)).toBe(60_000);
    expect(backoffMs(50, 0)).toBe(30_000);
  });
});
