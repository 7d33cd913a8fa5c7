// The service worker: the page opens without connection, and what waits is sent when the browser says that there is
// one again. It answers pages and their parts only; nothing of /api ever comes from a cache.
import { sendWhileAwake } from './sender';

declare const self: ServiceWorkerGlobalScope;
declare const VERSION: string;
declare const SHELL: string[];

interface SyncEvent extends ExtendableEvent {
  readonly tag: string;
}

const cacheName = `firstdraw-${VERSION}`;
const pages = /^\/($|j\/|c\/|devices$|pair$)/;

self.addEventListener('install', (event) => {
  event.waitUntil(caches.open(cacheName).then((cache) => cache.addAll(SHELL)));
});

self.addEventListener('activate', (event) => {
  event.waitUntil(dropOthers().then(() => self.clients.claim()));
});

async function dropOthers(): Promise<void> {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith('firstdraw-') && name !== cacheName);
  await Promise.all(old.map((name) => caches.delete(name)));
}

/** Waits until the person says so: a page must not change under a half-typed reading. */
self.addEventListener('message', (event) => {
  if (event.data === 'take-over') void self.skipWaiting();
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin) return;
  if (request.mode === 'navigate' && pages.test(url.pathname)) event.respondWith(fromShell('/', request));
  else if (SHELL.includes(url.pathname)) event.respondWith(fromShell(url.pathname, request));
});

async function fromShell(path: string, request: Request): Promise<Response> {
  const cache = await caches.open(cacheName);
  return (await cache.match(path)) ?? fetch(request);
}

self.addEventListener('sync', (event) => {
  const sync = event as SyncEvent;
  if (sync.tag === 'firstdraw-send') sync.waitUntil(sendAll());
});

/** What still waits makes the browser ask again later. */
async function sendAll(): Promise<void> {
  const pages = await self.clients.matchAll({ type: 'window', includeUncontrolled: true });
  if (!(await sendWhileAwake(pages.length === 0))) throw new Error('still waiting');
}
