// Times and ids as records want them.

/** RFC 3339 with the offset of this device: 2026-11-29T14:05:00-06:00. */
export function rfc3339(date: Date): string {
  const two = (value: number) => String(Math.floor(Math.abs(value))).padStart(2, '0');
  const offset = -date.getTimezoneOffset();
  const day = `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
  const time = `${two(date.getHours())}:${two(date.getMinutes())}:${two(date.getSeconds())}`;
  return `${day}T${time}${offset < 0 ? '-' : '+'}${two(offset / 60)}:${two(offset % 60)}`;
}

/** Also where the page is not secure and `randomUUID` is missing. */
export function newId(): string {
  if (crypto.randomUUID) return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

export function isOverdue(due: string | undefined, today: Date): boolean {
  return due !== undefined && due !== '' && due < rfc3339(today).slice(0, 10);
}
