// Sentences of the server in Spanish. A text is translated whole or not at all: half of each would be misread.
import { causeNames, causesEs, measuringEs } from './said_causes.es';
import { howEs } from './said_how.es';
import { powerEs } from './said_power.es';
import { verdictEs } from './said_verdict.es';

/** By the English sentence. `{}` stands for what the server fills in, in the same order in both languages. */
export const sentences: Record<string, string> = {
  ...howEs,
  ...verdictEs,
  ...powerEs,
  ...causesEs,
  ...measuringEs,
};

const fixed = new Map(Object.entries(sentences).filter(([english]) => !english.includes('{}')));

function pattern(english: string): RegExp {
  const literal = english.split('{}').map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
  return new RegExp(`^${literal.join('([^;.]*(?:\\.\\S[^;.]*)*)')}$`);
}

const filled = Object.entries(sentences)
  .filter(([english]) => english.includes('{}'))
  .map(([english, spanish]) => ({ pattern: pattern(english), spanish }));

function sentence(english: string): string | null {
  const known = fixed.get(english);
  if (known) return known;
  for (const each of filled) {
    const found = each.pattern.exec(english);
    if (!found) continue;
    let next = 1;
    return each.spanish.replace(/\{\}/g, () => (found[next++] ?? '').replace(/^more than /, 'más de '));
  }
  return null;
}

/** Sentences of a text: they end with a full stop or a question mark and the next begins with a capital or a figure. */
function parts(text: string): string[] {
  return text.split(/(?<=[.?]) (?=[A-ZÁÉ0-9>])/);
}

/** The longest known beginnings, one after the other. */
function inSpanish(all: string[]): string[] | null {
  if (all.length === 0) return [];
  for (let count = all.length; count > 0; --count) {
    const known = sentence(all.slice(0, count).join(' '));
    const rest = known === null ? null : inSpanish(all.slice(count));
    if (known !== null && rest) return [known, ...rest];
  }
  return null;
}

const titles: Record<string, string> = {
  'all is as planned': 'todo está como en el plan',
  'part of the cable is dead': 'una parte del cable está muerta',
  'the cable gets another voltage': 'el cable recibe otra tensión',
  'another cable is fitted': 'hay puesto otro cable',
  'insulation is wet': 'el aislamiento está mojado',
  'insulation is missing': 'falta aislamiento',
  'the sensor lies beside the cable': 'el sensor está junto al cable',
  'the sensor is on the pipe above the cable': 'el sensor está en el tubo antes del cable',
  'the controller has no sensor': 'el controlador no tiene sensor',
  'the sensor has come off the pipe': 'el sensor se ha soltado del tubo',
  'another air temperature was entered': 'se ingresó otra temperatura del aire',
  'the controller was told another cable': 'al controlador se le dio otro cable',
  'the contactor stays closed': 'el contactor queda cerrado',
  'the contactor stays open': 'el contactor queda abierto',
  'the breaker is open': 'el interruptor está abierto',
  'the cable has aged': 'el cable ha envejecido',
  'the air is colder than assumed': 'el aire está más frío de lo supuesto',
};

const shown: Record<string, string> = {
  yes: 'sí',
  no: 'no',
  anything: 'cualquier valor',
  'no reading': 'sin lectura',
  'another marking': 'otro marcado',
  'as planned': 'como en el plan',
  'beside cable': 'junto al cable',
  'untraced pipe': 'tubo sin cable',
  'off pipe': 'suelto del tubo',
};

/** "3.4 A to 3.6 A if part of the cable is dead; …" after how it is measured. */
function tells(text: string): string | null {
  const each = text.split('; ').map((tell) => {
    const [value = '', title = '', ...more] = tell.split(' if ');
    const cause = more.length ? undefined : titles[title.toLowerCase()];
    return cause ? `${shown[value] ?? value.replace(' to ', ' a ')} si ${cause}` : null;
  });
  return each.includes(null) ? null : each.join('; ');
}

const meant =
  /^(?:at ([\d.]+ \S+) (more than )?(.+?)(?: \((.+) to (.+): halving every 10 K is a rough rule\))?; )?(more than )?([\d.]+ MΩ) per (km|1000 ft) over (.+)$/;

/** What an insulation reading means: as if the cable were at 20 °C, and by its length. */
function meaning(text: string): string | null {
  const found = meant.exec(text);
  if (!found) return null;
  const [, at, more, cold, low, high, moreOver, per, unit, length] = found;
  const band = low ? ` (de ${low} a ${high}: la mitad cada 10 K es una regla aproximada)` : '';
  const asCold = at ? `a ${at} ${more ? 'más de ' : ''}${cold}${band}; ` : '';
  return `${asCold}${moreOver ? 'más de ' : ''}${per} por ${unit} en ${length}`;
}

/** `english` in Spanish; null when a sentence of it is not known. */
export function spanish(english: string): string | null {
  const text = english.trim().replace(/\s+/g, ' ');
  const means = meaning(text);
  if (means) return means;
  const all = parts(text);
  const whole = inSpanish(all);
  if (whole) return whole.join(' ');
  const last = all.at(-1) ?? '';
  const how = inSpanish(all.slice(0, -1));
  const told = how?.length ? tells(last) : null;
  return how && told ? [...how, told].join(' ') : null;
}

const limits: [RegExp, string][] = [
  [/^at least (.+)$/, 'al menos $1'],
  [/^at most (.+)$/, 'como máximo $1'],
  [/^about (.+)$/, 'unos $1'],
  [/^(.+) to (.+)$/, 'de $1 a $2'],
];

/** What a reading should be: "at least 20 MΩ", "3.59 A to 4.97 A". */
export function spanishExpected(english: string): string | null {
  for (const [pattern, words] of limits) if (pattern.test(english)) return english.replace(pattern, words);
  return null;
}

export { causeNames, shown as choiceNames };
