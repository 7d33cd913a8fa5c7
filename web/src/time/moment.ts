// Moments of a week: seconds from Monday 00:00 as day and time.

// 2024-01-01 was a Monday.
const monday_ms = Date.UTC(2024, 0, 1);

export function weekClock(time_s: number, language: string): string {
  const at = new Date(monday_ms + Math.round(time_s) * 1000);
  const day = at.toLocaleDateString(language, { weekday: 'short', timeZone: 'UTC' });
  const two = (value: number) => String(value).padStart(2, '0');
  return `${day} ${two(at.getUTCHours())}:${two(at.getUTCMinutes())}`;
}

export function dayName(index: number, language: string, short = false): string {
  return new Date(monday_ms + index * 86400000).toLocaleDateString(language, {
    weekday: short ? 'narrow' : 'short',
    timeZone: 'UTC',
  });
}
