// Who changed something, as the server names them, in words of the page.
import { word } from '../i18n/words';
import { who } from '../lib/server.svelte';

/** Empty: another window of this machine. */
export function changer(by: string): string {
  if (by === 'host') return who.server?.is_host ? '' : word('the_host');
  return by === 'another program' ? word('another_program') : by;
}
