// What has not changed keeps its identity, so that only what has is drawn again.

type Parts = Record<string | number, unknown>;

function isParts(value: unknown): value is Parts {
  return typeof value === 'object' && value !== null;
}

/** Takes one part from `before` when it is equal; whether it was. */
function taken(before: Parts, now: Parts, key: string | number): boolean {
  const was = before[key];
  const is = now[key];
  if (was === is) return is !== undefined || key in before;
  if (!isParts(was) || !isParts(is) || shared(was, is) !== was) return false;
  now[key] = was;
  return true;
}

/** Every edit passes a whole view through here: it walks lists by number, keys without listing them. */
function shared(before: Parts, now: Parts): Parts {
  if (Array.isArray(before) !== Array.isArray(now)) return now;
  let same = true;
  let more = 0;
  if (Array.isArray(before) && Array.isArray(now)) {
    more = before.length - now.length;
    for (let index = 0; index < now.length; ++index) same = taken(before, now, index) && same;
  } else {
    for (const _ in before) ++more;
    for (const key in now) {
      --more;
      same = taken(before, now, key) && same;
    }
  }
  return same && more === 0 ? before : now;
}

/** Plain data just made or read, with every part that is equal in `before` taken from there: `before` itself when all
 * of it is. Parts of `now` are exchanged in place. */
export function kept<T>(before: T | null | undefined, now: T): T {
  return isParts(before) && isParts(now) ? (shared(before, now) as T) : now;
}

/** `make`, with what is equal to its last answer taken from there: for `$derived.by`. */
export function sharing<T>(make: () => T): () => T {
  let last: T | undefined;
  return () => {
    last = kept(last, make());
    return last;
  };
}
