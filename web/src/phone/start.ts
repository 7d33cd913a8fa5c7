// Once per page: sends what waits on this device and keeps the page for when there is no connection.
import { startSending } from './sender';
import { worker } from './worker.svelte';

export function startPhone(): void {
  startSending();
  if (import.meta.env.PROD) void worker.register();
}
