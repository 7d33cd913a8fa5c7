// What is wrong with a value, in Spanish: every text of the program has words of ours, and none is left over.
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { problems, spanishProblem } from '../../src/i18n/problems.es';
import { deskProblems } from '../../src/i18n/problems_desk.es';
import { problemTerms } from '../../src/i18n/problems_terms.es';
import { stagesEs } from '../../src/i18n/stages.es';

const root = new URL('../../../', import.meta.url);

function source(path: string): string {
  return readFileSync(new URL(path, root), 'utf8')
    .replace(/^\s*\/\/.*$/gm, '')
    .replace(/"\s*\n\s*"/g, '');
}

/** String literals of C++, with what is filled in as `{}`. */
function literals(code: string): string[] {
  return [...code.matchAll(/R"\((.*?)\)"|"((?:[^"\\\n]|\\.)*)"/g)].map((found) =>
    (found[1] ?? found[2] ?? '').replaceAll('\\"', '"').replace(/\{[^}]*\}/g, '{}'),
  );
}

function filesOf(folder: string, which: RegExp): string[] {
  return readdirSync(new URL(folder, root))
    .filter((name) => which.test(name) && !name.includes('test'))
    .map((name) => `${folder}${name}`);
}

const readers = [
  ...filesOf('src/desk/', /^(desk|draft|editor|cell_editors|job_text|make_\w+|saving)\.cpp$/),
  ...filesOf(
    'src/job/',
    /^(check_wishes|context|csv_reader|read_\w+|source|toml_file|toml_reader|toml_sections|values|fields)\.[ch]pp$/,
  ),
  ...['number', 'clock', 'quantity'].map((name) => `src/units/${name}.cpp`),
  ...['find_pipe', 'insulation'].map((name) => `src/physics/${name}.cpp`),
];

/** Said of what stands in the job, not of what is wrong with it, or to who wrote the program. */
const noProblem = [
  /^(another program|changed on the disk:|all \{\} \{\}s|as weekday|all alike|the only control group)$/,
  /^(no hours of their own were given|no day was said to differ|untraced runs belong to no|no \[\[use\]\] says)/,
  /^"\{\}" as usual for the building/,
  /^insulation_conductivity.csv|^wall as ordered|^made to measure/,
  /^(time_of_day_text|weekdays_text|exact_text|unit table)/,
];

/** Two words of prose or more. */
const isProse = (text: string) => (text.match(/[a-z]{2,}/g) ?? []).length > 1 && / [a-z]/.test(text);

const said = readers
  .flatMap((path) => literals(source(path)).map((text) => ({ path, text: text.trim() })))
  .filter(({ text }) => isProse(text) && !noProblem.some((pattern) => pattern.test(text)));

/** Why the server refuses, in routes that the page asks. */
const refusals = filesOf('src/serve/', /\.cpp$/).flatMap((path) =>
  [...source(path).matchAll(/refuse\(Why::(\w+),([^;]*);/g)].flatMap((found) =>
    literals(found[2] ?? '')
      .map((text) => ({ path, text: text.trim() }))
      .filter(({ text }) => isProse(text)),
  ),
);

/** Only a program that is not the page is told these. */
const toPrograms = [
  /openapi\.json/,
  /Content-|bytes themselves|body breaks off|hexadecimal|was expected$|were expected$|units are us/,
  /no page built in|nothing here|cannot be done here|only this server's own page|not called that|address/,
  /a pack has files|is looked at here|keep the records they belong/,
];

const english = [...Object.keys(problems), ...Object.keys(problemTerms)].join('\n').replaceAll('"', '');
/** Stands in a form of ours, or is understood as it is or where a figure has to lie. */
function known(text: string): boolean {
  const whole = text.replace(/(?<=[a-z])\{\}/g, '').replaceAll('{}', 'X');
  return (
    english.includes(text.replaceAll('"', '')) ||
    spanishProblem(whole) !== null ||
    spanishProblem(`must be ${whole}`) !== null
  );
}

describe('problems in Spanish', () => {
  it('every text of what reads and edits the job has its words', () => {
    expect(said.length).toBeGreaterThan(150);
    expect(said.filter(({ text }) => !known(text))).toEqual([]);
  });

  it('every refusal that a page may meet has its words', () => {
    const met = refusals.filter(({ text }) => !toPrograms.some((pattern) => pattern.test(text)));
    expect(met.length).toBeGreaterThan(50);
    expect(met.filter(({ text }) => !known(text))).toEqual([]);
  });

  it('none is left over', () => {
    const spoken = [...readers, ...filesOf('src/serve/', /\.cpp$/)]
      .flatMap((path) => literals(source(path)))
      .join('\n')
      .replaceAll('"', '');
    // What is put together of pieces is looked for by its longest piece; these have a piece that may be left out.
    const pieced = [
      / is there twice, first used on line /,
      / is no day of the week/,
      /^unknown type |^no pipe size /,
    ];
    const longest = (text: string) =>
      text
        .split('{}')
        .map((piece) => piece.replaceAll('"', '').replace(/^[ ;:,?()]+|[ ;:,?()]+$/g, ''))
        .sort((a, b) => b.length - a.length)[0] ?? '';
    const own = Object.keys(problems).filter((text) => !pieced.some((pattern) => pattern.test(text)));
    expect(own.filter((text) => !spoken.includes(longest(text)))).toEqual([]);
  });

  it('as many holes in both languages', () => {
    const holes = (text: string) => text.split('{}').length;
    const odd = Object.entries(problems).filter(([from, to]) => holes(from) !== holes(to));
    expect(odd).toEqual([]);
    expect(Object.keys(deskProblems).length).toBeGreaterThan(40);
  });

  // Answers of the program to such cells, pasted or typed.
  it.each([
    ['"many" is no plain number', '«many» no es un número sin más'],
    ['there is no node "NOWHERE"', 'no hay nudo «NOWHERE»'],
    ['known: HEATER, MIX, B4 or B5', 'se conocen: HEATER, MIX, B4 o B5'],
    ['did you mean "lavatory"?', '¿quiso decir «lavatory»?'],
    [
      '"lavatori" is not known; expected lavatory, laundry-sink or dishwasher',
      '«lavatori» no se conoce; se esperaba lavatory, laundry-sink o dishwasher',
    ],
    [
      'unknown pipe material "12 parsecs"; known are copper, steel, stainless, cpvc and pex',
      'material de tubo «12 parsecs» desconocido; se conocen copper, steel, stainless, cpvc y pex',
    ],
    [
      '"12 parsecs": unknown unit "parsecs" for a length; known: m, mm, cm, km, ft, in, yd',
      '«12 parsecs»: unidad «parsecs» desconocida para una longitud; se conocen: m, mm, cm, km, ft, in, yd',
    ],
    [
      '"x" does not start with a number; expected a length',
      '«x» no empieza con un número; se esperaba una longitud',
    ],
    [
      '"1,5" has a comma in its number: write a decimal point, and no thousands separator; expected a length',
      '«1,5» tiene una coma en el número: escriba punto decimal y ningún separador de miles; se esperaba una longitud',
    ],
    ['must be between 0 °C and 100 °C (32 °F and 212 °F)', 'debe ser entre 0 °C y 100 °C (32 °F y 212 °F)'],
    [
      'copper type L has no size "1-1/3"; the nearest is 1-1/4 in',
      'copper tipo L no tiene el tamaño «1-1/3»; el más cercano es 1-1/4 in',
    ],
    ['must be more than zero', 'debe ser mayor que cero'],
    ['there is a run "R-05" already', 'ya hay tramo «R-05»'],
    ['40 columns were pasted, but from id on there are 15', 'se pegaron 40 columnas, pero desde id hay 15'],
    ['is missing', 'falta'],
  ])('%s', (from, to) => {
    expect(spanishProblem(from)).toBe(to);
  });

  it('what is not known in every part stays English as a whole', () => {
    expect(spanishProblem('cannot be saved: No space left on device')).toBeNull();
    expect(spanishProblem('something new')).toBeNull();
  });
});

describe('long work', () => {
  it('every stage has its Spanish words, and none is left over', () => {
    const paths = ['src/serve/task.cpp', 'src/serve/task_work.cpp', 'src/settings/settings.cpp'];
    const stages = paths.flatMap((path) =>
      [...source(path).matchAll(/(?:stages\.at\(|task\.step\(|stage_ = )"([^"]+)"/g)].map(
        (found) => found[1],
      ),
    );
    expect(Object.keys(stagesEs).sort()).toEqual([...new Set(stages)].sort());
  });
});
