// What the server says, in the language of the page. What has no words of ours stays English and says so: `lang`.

import type { Schemas } from '../lib/api';
import { choices } from '../lib/choices.svelte';
import { stagesEs } from './stages.es';
import { testsEs } from './tests.es';

export interface Said {
  text: string;
  /** Set where the words are not in the language of the page. */
  lang: 'en' | undefined;
}

type Spanish = typeof import('./spanish');

let loaded = $state.raw<Spanish | null>(null);
let asked = false;

function load(): void {
  asked = true;
  void import('./spanish').then(
    (all) => {
      loaded = all;
    },
    () => {
      asked = false;
    },
  );
}

/** The Spanish sentences, loaded when they are first needed; null until then, and on an English page. */
function spanish(): Spanish | null {
  if (choices.language === 'en') return null;
  if (!asked) load();
  return loaded;
}

const inEnglish = () => choices.language === 'en';

function as(known: string | null | undefined, english: string): Said {
  if (inEnglish()) return { text: english, lang: undefined };
  return known ? { text: known, lang: undefined } : { text: english, lang: 'en' };
}

/** For what is English in every language: undefined on an English page. */
export function englishHere(): 'en' | undefined {
  return inEnglish() ? undefined : 'en';
}

export function said(english: string): Said {
  return as(spanish()?.sentence(english), english);
}

/** What is wrong, or what to do about it. */
export function problem(english: string): Said {
  return english ? as(spanish()?.problem(english), english) : { text: '', lang: undefined };
}

export function expected(english: string): Said {
  return as(spanish()?.expected(english), english);
}

export function causeName(cause: Schemas['Cause']): Said {
  return as(spanish()?.causeNames[cause.id], cause.name);
}

/** What long work does now. */
export function stageSaid(english: string): Said {
  return as(stagesEs[english], english);
}

/** A choice as a button shows it; what is not known stays as it is written in the readings file. */
export function choiceName(choice: string): string {
  return spanish()?.choiceNames[choice] ?? choice;
}

/** A circumstance beside a reading, by its column; the server's name of it otherwise. */
export function besideName(key: string, kind: string, english: string): Said {
  return as(testsEs[`beside ${kind} ${key}`] ?? testsEs[`beside ${key}`], english);
}

const places: Record<string, string> = {
  site: 'obra',
  run: 'tramo',
  outlet: 'grifo',
  node: 'nudo',
  group: 'grupo',
  panel: 'tablero',
  circuit: 'circuito',
  space: 'espacio',
  level: 'nivel',
  cable: 'cable',
  acceptance: 'aceptación',
};

/** "run R-10": what it is in the language of the page, its name as it is. */
export function placeName(english: string): string {
  if (inEnglish()) return english;
  return english.replace(/^[a-z]+/, (kind) => places[kind] ?? kind);
}

/** Title and what to do of a finding, by its kind; null: they are the server's. */
export function findingWords(id: string): { title: string; todo: string } | null {
  const known = spanish()?.findings[id];
  return known ? { title: known[0], todo: known[1] } : null;
}
