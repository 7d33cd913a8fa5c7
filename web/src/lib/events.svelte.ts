// What the server tells by itself. One connection for all tabs of a browser: the tab that holds the lock listens and
// tells the others; when it closes, the next one takes over.
import type { Schemas } from './api';

export type News =
  | { kind: 'job'; job: string; revision: number; by: string; label: string }
  | { kind: 'task'; task: Schemas['Task'] }
  | { kind: 'record'; job: string; number: number; entry: string | null }
  | { kind: 'jobs' }
  /** Connected, perhaps again: what was missed meanwhile has to be fetched. */
  | { kind: 'open' }
  | { kind: 'lost' };

type Listener = (news: News) => void;

const listeners = new Set<Listener>();

export const connection = $state({ lost: false });

export function listen(listener: Listener): () => void {
  begin();
  listeners.add(listener);
  return () => listeners.delete(listener);
}

function tell(news: News): void {
  if (news.kind === 'lost') connection.lost = true;
  if (news.kind === 'open') connection.lost = false;
  for (const listener of [...listeners]) listener(news);
}

function connect(pass: Listener): void {
  const source = new EventSource('/api/events');
  const on = (name: string, read: (data: unknown) => News) =>
    source.addEventListener(name, (event) => pass(read(JSON.parse((event as MessageEvent<string>).data))));
  on('job', (data) => ({ kind: 'job', ...(data as Omit<News & { kind: 'job' }, 'kind'>) }));
  on('task', (data) => ({ kind: 'task', task: data as Schemas['Task'] }));
  on('record', (data) => ({ kind: 'record', ...(data as Omit<News & { kind: 'record' }, 'kind'>) }));
  on('jobs', () => ({ kind: 'jobs' }));
  source.addEventListener('open', () => pass({ kind: 'open' }));
  source.addEventListener('error', () => {
    pass({ kind: 'lost' });
    if (source.readyState !== EventSource.CLOSED) return;
    setTimeout(() => connect(pass), 2000);
  });
}

let begun = false;

function begin(): void {
  if (begun) return;
  begun = true;
  if (!('locks' in navigator) || !('BroadcastChannel' in window)) {
    connect(tell);
    return;
  }
  const channel = new BroadcastChannel('firstdraw-events');
  channel.onmessage = (event: MessageEvent<News>) => tell(event.data);
  void navigator.locks.request('firstdraw-events', () => {
    connect((news) => {
      tell(news);
      channel.postMessage(news);
    });
    return new Promise(() => undefined); // held until the tab closes
  });
}
