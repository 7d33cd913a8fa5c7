import { choices } from '../lib/choices.svelte';
import { field as fieldEn } from './field.en';
import { field as fieldEs } from './field.es';
import { page as pageEn } from './page.en';
import { page as pageEs } from './page.es';

const english = { ...pageEn, ...fieldEn };
export type Key = keyof typeof english;

const languages: Record<'en' | 'es', Record<Key, string>> = { en: english, es: { ...pageEs, ...fieldEs } };

/** A message in the chosen language, `{name}` filled from `values`. */
export function word(key: Key, values: Record<string, string | number> = {}): string {
  return languages[choices.language][key].replace(/\{(\w+)\}/g, (_, name: string) =>
    String(values[name] ?? ''),
  );
}
