// Why something failed, in words for who looks at the page.
import { word } from '../i18n/words';
import { Unreachable } from './api';

/** The server's own text, for `Wrong` to show; words of the page when there was no answer. */
export function why(error: unknown): string {
  if (error instanceof Unreachable) return word('unreached');
  return error instanceof Error ? error.message : String(error);
}
