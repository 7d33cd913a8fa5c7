// Where the page is: `/`, `/j/JOB/PART`, `/c/JOB/CIRCUIT` (what a label's code leads to), `/devices`.
export type Route =
  | { at: 'jobs' }
  | { at: 'job'; job: string; part: string }
  | { at: 'circuit'; job: string; circuit: string }
  | { at: 'devices' }
  | { at: 'nowhere' };

export function read(path: string): Route {
  const parts = path.split('/').filter(Boolean).map(decodeURIComponent);
  if (parts.length === 0) return { at: 'jobs' };
  if (parts[0] === 'j' && parts[1]) return { at: 'job', job: parts[1], part: parts[2] ?? 'drawing' };
  if (parts[0] === 'c' && parts[1] && parts[2]) return { at: 'circuit', job: parts[1], circuit: parts[2] };
  if (parts[0] === 'devices') return { at: 'devices' };
  return { at: 'nowhere' };
}

class Place {
  now = $state<Route>(read(location.pathname));

  constructor() {
    addEventListener('popstate', () => {
      this.now = read(location.pathname);
    });
  }

  go(path: string): void {
    if (path !== location.pathname) history.pushState(null, '', path);
    this.now = read(path);
  }
}

export const place = new Place();

/** Follows a link inside the page without loading it anew: `<a href="/j/x" onclick={follow}>`. */
export function follow(event: MouseEvent): void {
  const link = event.currentTarget as HTMLAnchorElement;
  if (event.metaKey || event.ctrlKey || event.shiftKey || event.button !== 0) return;
  event.preventDefault();
  place.go(link.pathname);
}
