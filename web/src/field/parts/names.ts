// Names of stages and kinds of reading in the language of the page; what it has no word for stays as the server says it.
import { testsEs } from '../../i18n/tests.es';
import type { Schemas } from '../../lib/api';
import { choices } from '../../lib/choices.svelte';

type Ask = Schemas['Ask'];

function named(key: string, otherwise: string): string {
  return (choices.language === 'es' ? testsEs[key] : undefined) ?? otherwise;
}

export function stageName(ask: Ask): string {
  return named(`stage ${ask.stage}`, ask.stage_name);
}

/** A measured one by its kind, one that is looked at by its test. */
export function titleOf(ask: Ask): string {
  const name = named(ask.kind, ask.name);
  return ask.place ? `${name} – ${ask.place}` : name;
}

/** As a record names it, without a field. */
export function kindName(kind: string, otherwise = kind.replaceAll('-', ' ')): string {
  return named(kind, otherwise.charAt(0).toUpperCase() + otherwise.slice(1));
}

/** The field that the server complains about: "readings[0].insulation-resistance · value" is that reading. */
export function fieldName(field: string): string {
  const kind = /^readings\[\d+\]\.([a-z-]+)/.exec(field)?.[1];
  return kind ? kindName(kind) : field;
}
