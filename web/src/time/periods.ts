// Stretches of a group's week: as the job writes them, as the server tries them, as they lie on a grid. Pure.
import type { Schemas } from '../lib/api';
import type { Change, Row } from '../lib/sheet';

export type Period = Schemas['Period'];
export type Day = Period['days'][number];
export const days: Day[] = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'];

/** "mon-fri, sun", "all", "fri-mon" as days; null when a name is none. */
export function daysOf(text: string): Day[] | null {
  const plain = text.trim().toLowerCase();
  if (plain === '' || plain === 'all') return [...days];
  const found = new Set<Day>();
  for (const part of plain.split(',')) {
    const [first, last] = part.split('-').map((name) => days.indexOf(name.trim().slice(0, 3) as Day));
    if (first === undefined || first < 0 || (last !== undefined && last < 0)) return null;
    for (let at = first; ; at = (at + 1) % 7) {
      found.add(days[at] ?? 'mon');
      if (at === (last ?? first)) break;
    }
  }
  return days.filter((day) => found.has(day));
}

export function daysText(chosen: Day[]): string {
  if (chosen.length === 7) return 'all';
  const at = days.map((day) => chosen.includes(day));
  const parts: string[] = [];
  for (let from = 0; from < 7; ++from) {
    if (!at[from]) continue;
    let to = from;
    while (to < 6 && at[to + 1]) ++to;
    parts.push(to > from ? `${days[from]}-${days[to]}` : `${days[from]}`);
    from = to;
  }
  return parts.join(',');
}

/** "22:30", "6:30", "10 pm" as minutes; null when it is no time of the day. */
export function minutesOf(text: string): number | null {
  const match = /^\s*(\d{1,2})(?::(\d{2}))?(?::\d{2})?\s*(am|pm)?\s*$/i.exec(text);
  if (!match || (match[2] === undefined && match[3] === undefined)) return null;
  let hours = Number(match[1]);
  const minutes = Number(match[2] ?? 0);
  if (match[3]) hours = (hours % 12) + (match[3].toLowerCase() === 'pm' ? 12 : 0);
  return minutes < 60 && hours * 60 + minutes <= 1440 ? hours * 60 + minutes : null;
}

export function clock(minutes: number): string {
  const two = (value: number) => String(value).padStart(2, '0');
  return `${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
}

/** "120 °F" or "50 C" in °C; null when it is no temperature. */
export function celsius(text: string): number | null {
  const match = /^\s*(-?\d+(?:\.\d+)?)\s*°?\s*([cf])\s*$/i.exec(text);
  if (!match?.[1] || !match[2]) return null;
  const value = Number(match[1]);
  return match[2].toLowerCase() === 'f' ? (value - 32) / 1.8 : value;
}

/** A period being worked on. `hold` as the job writes it: a word or a temperature. */
export interface Draft {
  row: string | null;
  days: Day[];
  from: number;
  to: number;
  hold: string;
}

export function draftOf(row: Row): Draft | null {
  const chosen = daysOf(row.cells['days'] ?? '');
  const from = minutesOf(row.cells['from'] ?? '');
  const to = minutesOf(row.cells['to'] ?? '');
  if (!chosen || from === null || to === null) return null;
  return { row: row.id, days: chosen, from, to, hold: row.cells['hold'] ?? 'setback' };
}

export function periodOf(draft: Draft): Period | null {
  const common = { days: draft.days, start: clock(draft.from), end: clock(draft.to) };
  if (draft.hold === 'setback' || draft.hold === 'maintain' || draft.hold === 'off')
    return { ...common, hold: draft.hold };
  const temperature_c = celsius(draft.hold);
  return temperature_c === null ? null : { ...common, hold: 'temperature', temperature_c };
}

export interface Piece {
  day: number;
  from: number;
  to: number;
}

/** Where a period lies on a grid of days; past midnight it goes on on the next day. */
export function piecesOf(draft: Pick<Draft, 'days' | 'from' | 'to'>): Piece[] {
  return draft.days.flatMap((name) => {
    const day = days.indexOf(name);
    if (draft.to > draft.from) return [{ day, from: draft.from, to: draft.to }];
    const rest = { day: (day + 1) % 7, from: 0, to: draft.to };
    return [{ day, from: draft.from, to: 1440 }, ...(draft.to > 0 ? [rest] : [])];
  });
}

function cells(group: string, draft: Draft): Record<string, string> {
  return {
    group,
    days: daysText(draft.days),
    from: clock(draft.from),
    to: clock(draft.to),
    hold: draft.hold,
  };
}

/** Edits that make the group's rows what the drafts say. Rows go from the last up, so that numbered rows keep their name. */
export function changesOf(rows: Row[], group: string, drafts: Draft[]): Change[] {
  const mine = rows.filter((row) => row.cells['group'] === group);
  const kept = new Map(drafts.flatMap((draft) => (draft.row === null ? [] : [[draft.row, draft] as const])));
  const sets = mine.flatMap((row): Change[] => {
    const draft = kept.get(row.id);
    if (!draft) return [];
    const was = draftOf(row);
    return Object.entries(cells(group, draft)).flatMap(([column, to]) => {
      const same = was && cells(group, was)[column] === to;
      return same
        ? []
        : [{ do: 'set' as const, table: 'period', row: row.id, column, to, was: row.cells[column] ?? '' }];
    });
  });
  const adds = drafts
    .filter((draft) => draft.row === null)
    .map((draft): Change => ({ do: 'add', table: 'period', cells: cells(group, draft) }));
  const removes = mine
    .filter((row) => !kept.has(row.id))
    .reverse()
    .map((row): Change => ({ do: 'remove', table: 'period', row: row.id }));
  return [...sets, ...adds, ...removes];
}

interface Entry {
  days: Day[];
  from: string;
  hold_c: number | null;
}

/** A controller's entries, each in force until the next, as periods; those alike on several days are one. */
export function draftsOf(entries: Entry[], shown: (celsius: number) => string): Draft[] {
  const week = 7 * 1440;
  const turns = entries
    .flatMap((entry) =>
      entry.days.map((day) => ({
        at: days.indexOf(day) * 1440 + (minutesOf(entry.from) ?? 0),
        hold: entry.hold_c === null ? 'off' : shown(entry.hold_c),
      })),
    )
    .sort((a, b) => a.at - b.at)
    .filter(
      (turn, index, all) =>
        turn.hold !== all[(index + all.length - 1) % all.length]?.hold || all.length === 1,
    );
  const drafts = new Map<string, Draft>();
  const put = (from: number, to: number, hold: string) => {
    const day = days[Math.floor(from / 1440) % 7] ?? 'mon';
    const draft = { row: null, days: [day], from: from % 1440, to: to % 1440 === 0 ? 1440 : to % 1440, hold };
    const key = `${draft.from} ${draft.to} ${hold}`;
    const known = drafts.get(key);
    if (known) known.days = days.filter((each) => each === day || known.days.includes(each));
    else drafts.set(key, draft);
  };
  turns.forEach((turn, index) => {
    const next = turns[index + 1]?.at ?? (turns[0]?.at ?? 0) + week;
    let from = turn.at;
    // A period is a day long at most.
    while (next - from > 1440) {
      const midnight = (Math.floor(from / 1440) + 1) * 1440;
      put(from, midnight, turn.hold);
      from = midnight;
    }
    if (next > from) put(from, next, turn.hold);
  });
  return [...drafts.values()];
}
