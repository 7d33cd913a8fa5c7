// Once per page: sends what waits on this device and keeps the page for when there is no connection.
import { readLabel } from './label';
import { startSending } from './sender';
import { worker } from './worker.svelte';

/** A label's address that the phone's own camera opened leads to the tests of its circuit. */
function followLabel(): void {
  const label = location.hash.startsWith('#circuit=') ? readLabel(location.href) : null;
  if (!label?.job) return;
  history.replaceState(null, '', `/c/${encodeURIComponent(label.job)}/${encodeURIComponent(label.circuit)}`);
  dispatchEvent(new PopStateEvent('popstate'));
}

export function startPhone(): void {
  followLabel();
  startSending();
  if (import.meta.env.PROD) void worker.register();
}
