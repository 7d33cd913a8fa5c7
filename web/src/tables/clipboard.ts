// Blocks of cells as spreadsheets put them on the clipboard: tabs between cells, line ends between rows, quotes around
// what holds either. Pure.

function quoted(text: string): string {
  return /[\t\n\r"]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

export function asText(block: string[][]): string {
  return block.map((row) => row.map(quoted).join('\t')).join('\n');
}

/** Whether pasting this means more than one cell. */
export function isBlock(text: string): boolean {
  return /[\t\n]/.test(text.replace(/\r?\n$/, ''));
}
