// Names of the job's columns: the server's in English, ours in other languages.
import { choices } from '../lib/choices.svelte';
import type { Column, Table } from '../lib/sheet';
import { columns as spanish, tables as spanishTables } from './columns.es';
import { placeName } from './said.svelte';

/** Without the unit: for what is said of an edit. */
export function columnWord(column: Column): string {
  return choices.language === 'es' ? (spanish[column.key] ?? column.label) : column.label;
}

export function columnName(column: Column): string {
  const name = columnWord(column);
  return column.unit ? `${name} (${column.unit})` : name;
}

/** Where something is wrong, as the server names it: "outlet O-02 · count". */
export function fieldSaid(field: string): string {
  if (choices.language !== 'es') return field;
  return placeName(field).replace(/ · ([a-z_]+)$/, (_, key: string) => ` · ${spanish[key] ?? key}`);
}

export function tableName(table: Table): string {
  if (choices.language === 'es') return spanishTables[table.name] ?? table.title;
  return table.title;
}
