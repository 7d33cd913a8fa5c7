// Problems of the server in Spanish. As with sentences, whole or not at all: what is filled in must be a name, a figure,
// something in quotes or words that are known too.
import { deskProblems } from './problems_desk.es';
import { jobProblems } from './problems_job.es';
import { problemTerms } from './problems_terms.es';

export const problems: Record<string, string> = { ...jobProblems, ...deskProblems };

const fixed = new Map(Object.entries({ ...problems, ...problemTerms }));

interface Form {
  pattern: RegExp;
  spanish: string;
  /** By hole: what stands there needs no words, for it is quoted or a list of names. */
  free: boolean[];
}

function form([english, spanish]: [string, string]): Form {
  const literal = english.split('{}').map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
  const free = english.split('{}').map((before) => /"$|known: $|known are $/.test(before));
  return { pattern: new RegExp(`^${literal.join('("[^"]*"|.+?)')}$`), spanish, free };
}

/** The more words of its own a form has, the sooner it is tried. */
const forms = Object.entries(problems)
  .filter(([english]) => english.includes('{}'))
  .sort(([a], [b]) => b.replaceAll('{}', '').length - a.replaceAll('{}', '').length)
  .map(form);

const figure = /^[-−]?[\d.,/x-]+(?:e[-+]?\d+)?(?: ?[^\s\d]{1,9})?$/;
const range =
  /^(?:between )([-−\d.]+(?: ?\S{1,3})?) and ([-−\d.]+(?: ?\S{1,3})?)(?: \(([^()]+) and ([^()]+)\))?$/;

/** One thing that was filled in; null when it is English. */
function item(text: string): string | null {
  const known = fixed.get(text);
  if (known) return known;
  if (/^"[^"]*"$/.test(text)) return `«${text.slice(1, -1)}»`;
  return /^\S+$/.test(text) || figure.test(text) ? text : null;
}

/** Names as the server lists them: "a, b or c". */
function names(text: string): string {
  return text.replace(/ or (?=[^,]*$)/, ' o ').replace(/ and (?=[^,]*$)/, ' y ');
}

function list(text: string): string | null {
  return text.split(/, | (?:or|and) /).some((each) => item(each) === null) ? null : names(text);
}

function between(text: string): string | null {
  const found = range.exec(text);
  if (!found) return null;
  const [, low, high, alsoLow, alsoHigh] = found;
  return `entre ${low} y ${high}${alsoLow ? ` (${alsoLow} y ${alsoHigh})` : ''}`;
}

function filled(text: string): string | null {
  return item(text) ?? between(text) ?? list(text) ?? formed(text);
}

function formed(text: string): string | null {
  for (const { pattern, spanish, free } of forms) {
    const found = pattern.exec(text);
    if (!found) continue;
    const values = found.slice(1).map((text, hole) => (free[hole] ? names(text) : filled(text)));
    if (values.includes(null)) continue;
    let next = 0;
    return spanish.replace(/\{\}/g, () => values[next++] ?? '');
  }
  return null;
}

/** A problem or its hint in Spanish; null where a word of it is not known. */
export function spanishProblem(english: string): string | null {
  const text = english.trim();
  return fixed.get(text) ?? formed(text);
}
