/** A hash in groups of four, as it is read aloud and written on paper; `digits`: of the first. */
export function inFours(hash: string, digits = hash.length): string {
  return (hash.slice(0, digits).match(/.{1,4}/g) ?? []).join(' ');
}
