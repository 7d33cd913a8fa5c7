// Spanish for everything with a stable name, and nothing left over that the program no longer says.
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { findingsEs } from '../../src/i18n/findings.es';
import { causeNames, sentences, spanish, spanishExpected } from '../../src/i18n/said.es';
import { testsEs } from '../../src/i18n/tests.es';

const root = new URL('../../../', import.meta.url);
const read = (path: string) => readFileSync(new URL(path, root), 'utf8');

/** String literals of C++ sources, those that stand one after another as one, with what is filled in as `{}`. */
function literals(paths: string[]): string[] {
  return paths.flatMap((path) => {
    const joined = read(path).replace(/"\s*\n\s*"/g, '');
    return [...joined.matchAll(/"((?:[^"\\\n]|\\.)*)"/g)].map((found) =>
      (found[1] ?? '').replaceAll('\\"', '"').replace(/\{[^}]*\}/g, '{}'),
    );
  });
}

const plain = (text: string) => text.replace(/\s+/g, ' ').trim();
const judges = readdirSync(new URL('src/prove/', root))
  .filter((name) => name.startsWith('judge_') && name.endsWith('.cpp'))
  .map((name) => `src/prove/${name}`);
const others = [
  'bench.hpp',
  'bench.cpp',
  'verdict.cpp',
  'trends.cpp',
  'diagnosis_words.cpp',
  'hypotheses.cpp',
];
const sources = [...judges, ...others.map((name) => `src/prove/${name}`), 'src/serve/circuit_page.cpp'];

/** A column of a rules table, by the name of its heading. */
function column(path: string, name: string): string[] {
  const rows = read(path)
    .split('\n')
    .filter((line) => line && !line.startsWith('#'))
    .map((line) =>
      [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map((cell) => cell[1] ?? cell[2] ?? ''),
    );
  const at = rows[0]?.indexOf(name) ?? -1;
  expect(at).toBeGreaterThanOrEqual(0);
  return rows.slice(1).map((row) => row[at] ?? '');
}

describe('findings', () => {
  const ids = [...read('docs/findings.md').matchAll(/^### `([^`]+)`/gm)].map((found) => found[1] ?? '');

  it('every one of docs/findings.md has a Spanish title and what to do, and none is left over', () => {
    expect(ids.length).toBeGreaterThan(100);
    expect(Object.keys(findingsEs).sort()).toEqual([...ids].sort());
    for (const [title, todo] of Object.values(findingsEs)) {
      expect(title).toMatch(/^[A-ZÁÉÍÓÚ].*[^.]$/);
      expect(todo).toMatch(/^[A-ZÁÉÍÓÚ].*\.$/);
    }
  });
});

describe('field tests', () => {
  it('every way to do a test and to measure next is said in Spanish', () => {
    const hows = [
      ...column('data/rules_field_tests.csv', 'how'),
      ...column('data/measurement_work.csv', 'how'),
    ];
    expect(hows.filter((how) => spanish(how) === null)).toEqual([]);
  });

  it('every test that is looked at and every kind of reading has a Spanish name', () => {
    const kinds = [
      ...read('docs/field-tests.md').matchAll(
        /^\| ((?:`[a-z-]+`,? ?)+) \| (?:circuit|group|run|outlet) \|/gm,
      ),
    ].flatMap((found) => [...(found[1] ?? '').matchAll(/`([a-z-]+)`/g)].map((name) => name[1] ?? ''));
    expect(kinds.length).toBeGreaterThan(20);
    const looks = ['receipt-identity', 'fixed-sensor', 'insulated-thickness', 'insulated-labels'];
    expect([...kinds, ...looks].filter((kind) => !testsEs[kind])).toEqual([]);
    expect(column('data/rules_field_tests.csv', 'id')).toEqual(expect.arrayContaining(looks));
  });

  it('every cause has a Spanish name', () => {
    const ids = [...read('src/prove/hypotheses.cpp').matchAll(/CauseHelp\{\w+, "([a-z-]+)"/g)].map(
      (found) => found[1],
    );
    expect(Object.keys(causeNames)).toEqual(ids);
  });
});

describe('sentences', () => {
  const spoken = literals(sources).map(plain);

  it('every one is still said by the program: none is left over', () => {
    const everything = [
      ...spoken,
      ...['how'].flatMap((name) => column('data/rules_field_tests.csv', name)),
      ...column('data/measurement_work.csv', 'how'),
    ]
      .map(plain)
      .join('\n');
    // The program puts some sentences together of pieces: where two meet, a pair of words stands nowhere in its text.
    const pairs = (text: string) => {
      const words = text
        .replace(/[^\p{L}\d']+/gu, ' ')
        .trim()
        .split(' ');
      return words.slice(1).map((word, i) => `${words[i]} ${word}`);
    };
    const known = new Set(pairs(everything));
    const lost = Object.keys(sentences).filter((english) => {
      const mine = english.split('{}').flatMap(pairs);
      return mine.filter((pair) => !known.has(pair)).length > Math.max(2, mine.length * 0.15);
    });
    expect(lost).toEqual([]);
  });

  it('whatever a judge suspects or asks for, in whole sentences, is said in Spanish', () => {
    const whole = literals(judges)
      .map(plain)
      .filter((text) => /^[A-Z][^{}]* [^{}]*\.$/.test(text));
    expect(whole.length).toBeGreaterThan(90);
    expect(whole.filter((text) => spanish(text) === null)).toEqual([]);
  });

  it('figures and names stay where they belong', () => {
    expect(spanish('4.20 A drawn; 3.59 A to 4.97 A expected, settled.')).toBe(
      'Pasan 4.20 A; ya estable se esperan de 3.59 A a 4.97 A.',
    );
    expect(
      spanish(
        'Look at breaker and contactor first. Switch off, lock out and prove dead before anything is opened; a licensed electrician works on it.',
      ),
    ).toBe(
      'Mire primero el interruptor y el contactor. Desconecte, bloquee y compruebe la ausencia de tensión antes de abrir nada; el trabajo es de un electricista autorizado.',
    );
    expect(
      spanish(
        'Read the temperature that the controller shows for its sensor. 118 °F to 124 °F if part of the cable is dead; no reading if the controller has no sensor',
      ),
    ).toBe(
      'Lea la temperatura que el controlador muestra de su sensor. 118 °F a 124 °F si una parte del cable está muerta; sin lectura si el controlador no tiene sensor',
    );
  });

  it('what weakens a record, and what an insulation reading means by length and temperature', () => {
    // Texts of `POST /judge` for 1450 MΩ on 49.04 m, with and without the cable's temperature and the range's end.
    expect(spanish('the test voltage is not on record: at least 500 V dc is asked for')).toBe(
      'la tensión de prueba no está registrada: se piden al menos 500 V cc',
    );
    expect(spanish('71.1 MΩ per km over 49.04 m')).toBe('71.1 MΩ por km en 49.04 m');
    expect(
      spanish(
        'at 20 °C more than 4.1 GΩ (3.4 GΩ to 5.2 GΩ: halving every 10 K is a rough rule); more than 233 MΩ per 1000 ft over 160.9 ft',
      ),
    ).toBe(
      'a 20 °C más de 4.1 GΩ (de 3.4 GΩ a 5.2 GΩ: la mitad cada 10 K es una regla aproximada); más de 233 MΩ por 1000 ft en 160.9 ft',
    );
  });

  it('a text of which one sentence is unknown stays English as a whole', () => {
    expect(spanish('Look at breaker and contactor first. Something new.')).toBeNull();
  });

  it('what is expected', () => {
    expect(spanishExpected('at least 20 MΩ')).toBe('al menos 20 MΩ');
    expect(spanishExpected('3.59 A to 4.97 A')).toBe('de 3.59 A a 4.97 A');
  });
});
