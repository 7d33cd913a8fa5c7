/** A folder's name from a building's: letters, digits and -, none of `taken`. */
export function plainId(name: string, taken: string[]): string {
  const plain = name
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 56);
  const stem = plain || 'job';
  if (!taken.includes(stem)) return stem;
  for (let number = 2; ; ++number) if (!taken.includes(`${stem}-${number}`)) return `${stem}-${number}`;
}
