// What this person chose on this device: theme, units, language. Kept in the browser; the job knows nothing of it.
export type Units = 'us' | 'metric';
export type Theme = 'system' | 'light' | 'dark';
export type Language = 'en' | 'es';

interface Kept {
  theme: Theme;
  units: Units | 'job';
  language: Language;
}

const key = 'firstdraw-choices';

function usual(): Kept {
  return { theme: 'system', units: 'job', language: navigator.language.startsWith('es') ? 'es' : 'en' };
}

function load(): Kept {
  try {
    return { ...usual(), ...(JSON.parse(localStorage.getItem(key) ?? '{}') as Partial<Kept>) };
  } catch {
    return usual();
  }
}

export const choices = $state<Kept>(load());

export function keep(change: Partial<Kept>): void {
  Object.assign(choices, change);
  localStorage.setItem(key, JSON.stringify(choices));
  show();
}

/** How figures and days are written. In Spanish as in the Americas: with the decimal point that the server writes and
 * reads, so that 20,186 W is never taken for twenty. */
export function locale(): string {
  return choices.language === 'es' ? 'es-US' : 'en-US';
}

/** What is asked of the server with the texts it makes. */
export function unitsAsked(): { units?: Units } {
  return choices.units === 'job' ? {} : { units: choices.units };
}

/** Puts theme and language on the document. */
export function show(): void {
  const dark =
    choices.theme === 'dark' ||
    (choices.theme === 'system' && matchMedia('(prefers-color-scheme: dark)').matches);
  document.documentElement.dataset['theme'] = dark ? 'dark' : 'light';
  document.documentElement.lang = choices.language;
}

matchMedia('(prefers-color-scheme: dark)').addEventListener('change', show);
