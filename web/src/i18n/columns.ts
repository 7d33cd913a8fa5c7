// Names of the job's columns: the server's in English, ours in other languages.
import { choices } from '../lib/choices.svelte';
import type { Column, Table } from '../lib/sheet';
import { columns as spanish, tables as spanishTables } from './columns.es';

export function columnName(column: Column): string {
  const name = choices.language === 'es' ? (spanish[column.key] ?? column.label) : column.label;
  return column.unit ? `${name} (${column.unit})` : name;
}

export function tableName(table: Table): string {
  if (choices.language === 'es') return spanishTables[table.name] ?? table.title;
  return table.title;
}
