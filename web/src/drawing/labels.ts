// Which labels find room: those that would lie on another are left out until one zooms in. Pure.
import { type Drawing, longest, point } from './geometry';
import { toScreen, type Viewport } from './viewport';

export interface Label {
  id: string;
  x: number;
  y: number;
  text: string;
  anchor: 'start' | 'middle';
  strong: boolean;
}

interface Taken {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

const letter_px = 6.4;
const line_px = 14;

export function widthOf(text: string): number {
  return text.length * letter_px + 4;
}

class Room {
  #taken: Taken[] = [];

  /** Pipes are in the way of every label. */
  block(place: Taken): void {
    this.#taken.push(place);
  }

  /** Takes the place if it is free. */
  take(place: Taken): boolean {
    const free = this.#taken.every(
      (each) =>
        place.left >= each.right ||
        place.right <= each.left ||
        place.top >= each.bottom ||
        place.bottom <= each.top,
    );
    if (free) this.#taken.push(place);
    return free;
  }
}

function placed(label: Label): Taken {
  const width = widthOf(label.text);
  const left = label.anchor === 'middle' ? label.x - width / 2 : label.x;
  return { left, right: left + width, top: label.y - line_px + 3, bottom: label.y + 3 };
}

/** The straight pieces of all runs on the screen, a little wider than they are drawn. */
function linesOf(drawing: Drawing, viewport: Viewport): Taken[] {
  return drawing.runs.flatMap(({ line }) =>
    line.slice(1).map((pair, index) => {
      const a = toScreen(viewport, point(line[index] ?? []));
      const b = toScreen(viewport, point(pair));
      const around = 2;
      return {
        left: Math.min(a.x, b.x) - around,
        right: Math.max(a.x, b.x) + around,
        top: Math.min(a.y, b.y) - around,
        bottom: Math.max(a.y, b.y) + around,
      };
    }),
  );
}

/** Ids above the line, figures below it; a figure is worth more than an id when there is room for one. */
export function labelsOf(
  drawing: Drawing,
  viewport: Viewport,
  size: { width: number; height: number },
  figureOf: (run: string) => string,
  first: ReadonlySet<string>,
): Label[] {
  const room = new Room();
  for (const line of linesOf(drawing, viewport)) room.block(line);
  const labels: Label[] = [];
  const runs = [...drawing.runs].sort((a, b) => Number(first.has(b.id)) - Number(first.has(a.id)));
  const put = (label: Label) => {
    if (label.x < -80 || label.x > size.width + 80 || label.y < -20 || label.y > size.height + 20) return;
    if (room.take(placed(label))) labels.push(label);
  };
  for (const kind of ['figure', 'id'] as const) {
    for (const run of runs) {
      const text = kind === 'figure' ? figureOf(run.id) : run.id;
      const stretch = text ? longest(run.line) : null;
      if (!stretch) continue;
      const from = toScreen(viewport, stretch.from);
      const to = toScreen(viewport, stretch.to);
      const long = Math.hypot(to.x - from.x, to.y - from.y);
      const x = (from.x + to.x) / 2;
      const y = (from.y + to.y) / 2;
      const strong = kind === 'figure';
      if (stretch.level) {
        if (long < widthOf(text)) continue;
        put({ id: run.id, x, y: strong ? y + 15 : y - 7, text, anchor: 'middle', strong });
      } else if (long >= 2 * line_px) {
        put({ id: run.id, x: x + 8, y: strong ? y + 15 : y + 1, text, anchor: 'start', strong });
      }
    }
  }
  return labels;
}
