// Geometry of the drawing, in the server's millimetres, y down. Pure.
import type { Schemas } from '../lib/api';

export type Drawing = Schemas['Drawing'];
export type Point = { x: number; y: number };
export interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}
type Line = Drawing['runs'][number]['line'];

export function point(pair: number[]): Point {
  return { x: pair[0] ?? 0, y: pair[1] ?? 0 };
}

function distance(a: Point, b: Point): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}

export function lengthOf(line: Line): number {
  let sum = 0;
  for (let index = 1; index < line.length; ++index)
    sum += distance(point(line[index - 1] ?? []), point(line[index] ?? []));
  return sum;
}

/** Where a share of the way along a line is. */
export function along(line: Line, frac: number): Point {
  let left = Math.min(1, Math.max(0, frac)) * lengthOf(line);
  for (let index = 1; index < line.length; ++index) {
    const from = point(line[index - 1] ?? []);
    const to = point(line[index] ?? []);
    const piece = distance(from, to);
    if (left <= piece && piece > 0)
      return { x: from.x + ((to.x - from.x) * left) / piece, y: from.y + ((to.y - from.y) * left) / piece };
    left -= piece;
  }
  return point(line[line.length - 1] ?? []);
}

export interface Stretch {
  from: Point;
  to: Point;
  level: boolean;
}

/** The longest straight piece: where a label belongs. */
export function longest(line: Line): Stretch | null {
  let best: Stretch | null = null;
  let most = 0;
  for (let index = 1; index < line.length; ++index) {
    const from = point(line[index - 1] ?? []);
    const to = point(line[index] ?? []);
    const piece = distance(from, to);
    if (piece > most) {
      most = piece;
      best = { from, to, level: Math.abs(to.x - from.x) >= Math.abs(to.y - from.y) };
    }
  }
  return best;
}

export function boundsOf(drawing: Drawing): Box {
  return { left: 0, top: 0, right: Math.max(1, drawing.width_mm), bottom: Math.max(1, drawing.height_mm) };
}

export function inside(box: Box, at: Point): boolean {
  return at.x >= box.left && at.x <= box.right && at.y >= box.top && at.y <= box.bottom;
}

/** A run is caught by a rubber band when the middle of its line lies in it. */
export function caught(drawing: Drawing, box: Box): { runs: string[]; outlets: string[] } {
  return {
    runs: drawing.runs.filter((run) => inside(box, along(run.line, 0.5))).map((run) => run.id),
    outlets: drawing.outlets.filter((outlet) => inside(box, point(outlet.at))).map((outlet) => outlet.id),
  };
}

export function boxOf(a: Point, b: Point): Box {
  return {
    left: Math.min(a.x, b.x),
    right: Math.max(a.x, b.x),
    top: Math.min(a.y, b.y),
    bottom: Math.max(a.y, b.y),
  };
}

export function nearestNode(drawing: Drawing, at: Point, within: number): string | null {
  let best: string | null = null;
  let least = within;
  for (const node of drawing.nodes) {
    const away = distance(point(node.at), at);
    if (away <= least) {
      least = away;
      best = node.id;
    }
  }
  return best;
}

export function pathOf(line: Line): string {
  return line.map((pair, index) => `${index ? 'L' : 'M'}${pair[0]} ${pair[1]}`).join(' ');
}

/** The same with a small cross in its middle: a straight line by itself is a box without height, which no finger, pointer
 * or screen reader finds. */
export function reachOf(line: Line): string {
  const { x, y } = along(line, 0.5);
  const arm = 0.3;
  return `${pathOf(line)} M${x} ${y - arm} v${2 * arm} M${x - arm} ${y} h${2 * arm}`;
}

/** The level on whose band a joint is drawn; null: it is not drawn. A riser's run bears the level it starts from. */
export function levelAt(drawing: Drawing, node: string): string | null {
  const y = drawing.nodes.find((each) => each.id === node)?.at[1];
  if (y === undefined) return null;
  return drawing.levels.find((level) => y >= level.top_mm && y < level.bottom_mm)?.id ?? null;
}
