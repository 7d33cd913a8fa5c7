// Which labels find room: those that would lie on another are left out until one zooms in. Pure.
import { type Drawing, longest, type Point, point } from './geometry';
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

const letter_px = 7.4;
const line_px = 14;
/** Air and the rim of paper around the letters. */
const air_px = 6;

/** About as wide as a text is, where nothing measures it. */
export function widthOf(text: string): number {
  return text.length * letter_px;
}

/** What the drawing is set on: its size, how wide texts are, what stands in their way (on the screen, half a side). */
export interface Setting {
  width: number;
  height: number;
  textWidth?: (text: string, strong: boolean) => number;
  marks?: { at: Point; half: number }[];
  /** Size of the letters, 1: usual. */
  letters?: number;
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

function placed(label: Label, width: number): Taken {
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

/** Where along a level stretch a label may stand, the best first; a riser's stands beside its middle. */
const shares = [0.5, 0.32, 0.68];

interface Wanted {
  id: string;
  text: string;
  strong: boolean;
  width: number;
}

function placesFor(wanted: Wanted, from: Point, to: Point, level: boolean): Label[] {
  const { id, text, strong, width } = wanted;
  const long = Math.hypot(to.x - from.x, to.y - from.y);
  const at = (share: number) => ({
    x: from.x + (to.x - from.x) * share,
    y: from.y + (to.y - from.y) * share,
  });
  if (!level) {
    if (long < 2 * line_px) return [];
    const { x, y } = at(0.5);
    return [{ id, x: x + 8, y: strong ? y + 15 : y + 1, text, anchor: 'start', strong }];
  }
  return shares
    .filter((share) => long * Math.min(share, 1 - share) * 2 >= width)
    .map(at)
    .map(({ x, y }) => ({ id, x, y: strong ? y + 15 : y - 7, text, anchor: 'middle', strong }));
}

/** The same sheet seen from so far that its larger letters look of usual size. */
function fromAfar(
  viewport: Viewport,
  setting: Setting,
  by: number,
): { viewport: Viewport; setting: Setting } {
  const { width, height, textWidth = widthOf, marks = [] } = setting;
  return {
    viewport: { scale: viewport.scale / by, x: viewport.x / by, y: viewport.y / by },
    setting: {
      width: width / by,
      height: height / by,
      textWidth: (text, strong) => textWidth(text, strong) / by,
      marks: marks.map(({ at, half }) => ({ at: { x: at.x / by, y: at.y / by }, half: half / by })),
    },
  };
}

/** Ids above the line, figures below it; a figure is worth more than an id when there is room for one. */
export function labelsOf(
  drawing: Drawing,
  viewport: Viewport,
  setting: Setting,
  figureOf: (run: string) => string,
  first: ReadonlySet<string>,
): Label[] {
  const { width, height, textWidth = widthOf, marks = [], letters = 1 } = setting;
  if (letters !== 1) {
    const far = fromAfar(viewport, setting, letters);
    const labels = labelsOf(drawing, far.viewport, far.setting, figureOf, first);
    return labels.map((label) => ({ ...label, x: label.x * letters, y: label.y * letters }));
  }
  const room = new Room();
  for (const line of linesOf(drawing, viewport)) room.block(line);
  for (const { at, half } of marks)
    room.block({ left: at.x - half, right: at.x + half, top: at.y - half, bottom: at.y + half });
  const labels: Label[] = [];
  const runs = [...drawing.runs].sort((a, b) => Number(first.has(b.id)) - Number(first.has(a.id)));
  const inSight = ({ x, y }: Label) => x > -80 && x < width + 80 && y > -20 && y < height + 20;
  for (const strong of [true, false]) {
    for (const run of runs) {
      const text = strong ? figureOf(run.id) : run.id;
      const stretch = text ? longest(run.line) : null;
      if (!stretch) continue;
      const wanted = { id: run.id, text, strong, width: textWidth(text, strong) + air_px };
      const places = placesFor(
        wanted,
        toScreen(viewport, stretch.from),
        toScreen(viewport, stretch.to),
        stretch.level,
      );
      const found = places.filter(inSight).find((label) => room.take(placed(label, wanted.width)));
      if (found) labels.push(found);
    }
  }
  return labels;
}
