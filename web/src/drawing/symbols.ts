// Where power connections, sensors and the heater stand on the drawing. Pure.
import type { Schemas } from '../lib/api';
import { along, type Point, point } from './geometry';

type View = Schemas['View'];

export interface Symbols {
  sensors: { group: View['groups'][number]; at: Point }[];
  feeds: { circuit: View['circuits'][number]; at: Point }[];
  source: Point | null;
}

/** A sensor's run is known, not its place along it: it is drawn beside the middle, which the label takes. */
const sensor_frac = 0.22;

export function symbolsOf(view: View): Symbols {
  const lines = new Map(view.drawing.runs.map((each) => [each.id, each.line]));
  const places = new Map(view.drawing.nodes.map((each) => [each.id, point(each.at)]));
  const fed = new Set(view.runs.map((run) => run.to));
  const first = view.runs.find((run) => !fed.has(run.from));
  return {
    sensors: view.groups.flatMap((group) => {
      const line = group.sensor_run ? lines.get(group.sensor_run) : undefined;
      return line ? [{ group, at: along(line, sensor_frac) }] : [];
    }),
    feeds: view.circuits.flatMap((circuit) => {
      const at = places.get(circuit.feed_node);
      return at ? [{ circuit, at }] : [];
    }),
    source: (first && places.get(first.from)) ?? null,
  };
}

/** Half the height of a symbol on the screen, px. */
export function symbolSize(scale: number): number {
  return Math.min(7, Math.max(2, scale * 1.6));
}

/** Lines lie this far apart at the least, mm of the drawing. */
const pitch_mm = 11.5;

/** Width on the screen, px, by which a run is taken hold of: never over its neighbour. */
export function holdWidth(scale: number): number {
  return Math.min(16, Math.max(4, pitch_mm * scale * 0.9));
}
