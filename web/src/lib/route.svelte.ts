// Where the page is: `/`, `/s/TOKEN` (a link that is over: one that is good leads to its job), `/j/JOB/PART`, `/c/JOB/CIRCUIT` (what a label's code leads to), `/devices`, `/pair`.
export type Route =
  | { at: 'jobs' }
  | { at: 'job'; job: string; part: string }
  | { at: 'circuit'; job: string; circuit: string }
  | { at: 'devices' }
  | { at: 'pair' }
  | { at: 'link-over' }
  | { at: 'nowhere' };

export function read(path: string): Route {
  let parts: string[];
  try {
    parts = path.split('/').filter(Boolean).map(decodeURIComponent);
  } catch {
    return { at: 'nowhere' };
  }
  if (parts.length === 0) return { at: 'jobs' };
  if (parts[0] === 'j' && parts[1]) return { at: 'job', job: parts[1], part: parts[2] ?? 'drawing' };
  if (parts[0] === 'c' && parts[1] && parts[2]) return { at: 'circuit', job: parts[1], circuit: parts[2] };
  if (parts[0] === 's') return { at: 'link-over' };
  if (parts[0] === 'pair') return { at: 'pair' };
  if (parts[0] === 'devices') return { at: 'devices' };
  return { at: 'nowhere' };
}

function readMark(hash: string): string {
  try {
    return decodeURIComponent(hash.slice(1));
  } catch {
    return '';
  }
}

class Place {
  now = $state<Route>(read(location.pathname));
  /** What the address points at within its page: "run=R-02". */
  mark = $state(readMark(location.hash));

  constructor() {
    addEventListener('popstate', () => {
      this.now = read(location.pathname);
      this.mark = readMark(location.hash);
    });
  }

  go(path: string): void {
    const { pathname, hash } = new URL(path, location.href);
    if (pathname + hash !== location.pathname + location.hash) history.pushState(null, '', pathname + hash);
    this.now = read(pathname);
    this.mark = readMark(hash);
  }
}

export const place = new Place();

/** Follows a link inside the page without loading it anew: `<a href="/j/x" onclick={follow}>`. */
export function follow(event: MouseEvent): void {
  const link = event.currentTarget as HTMLAnchorElement;
  if (event.metaKey || event.ctrlKey || event.shiftKey || event.button !== 0) return;
  event.preventDefault();
  place.go(link.pathname + link.hash);
}
