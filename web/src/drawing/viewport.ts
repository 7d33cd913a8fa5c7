// What part of the drawing is on the screen: screen = drawing × scale + shift. Pure.
import type { Box, Point } from './geometry';

export interface Viewport {
  scale: number;
  x: number;
  y: number;
}

export const least_scale = 0.05;
export const most_scale = 24;

export function toScreen(viewport: Viewport, at: Point): Point {
  return { x: at.x * viewport.scale + viewport.x, y: at.y * viewport.scale + viewport.y };
}

export function toDrawing(viewport: Viewport, at: Point): Point {
  return { x: (at.x - viewport.x) / viewport.scale, y: (at.y - viewport.y) / viewport.scale };
}

export interface Margins {
  left: number;
  rest: number;
}

/** Everything in sight, never larger than is comfortable to read: `most` times the drawing's millimetres. */
export function fitInto(box: Box, width: number, height: number, margins: Margins, most = 6): Viewport {
  const wide = Math.max(1, width - margins.left - margins.rest);
  const high = Math.max(1, height - 2 * margins.rest);
  const scale = Math.min(wide / (box.right - box.left), high / (box.bottom - box.top), most);
  return {
    scale,
    x: margins.left + (wide - (box.right - box.left) * scale) / 2 - box.left * scale,
    y: margins.rest + (high - (box.bottom - box.top) * scale) / 2 - box.top * scale,
  };
}

/** Zoomed by `factor` with the point under the finger staying where it is. */
export function zoomAt(viewport: Viewport, factor: number, at: Point): Viewport {
  const scale = Math.min(most_scale, Math.max(least_scale, viewport.scale * factor));
  const by = scale / viewport.scale;
  return { scale, x: at.x - (at.x - viewport.x) * by, y: at.y - (at.y - viewport.y) * by };
}

export function pan(viewport: Viewport, dx: number, dy: number): Viewport {
  return { ...viewport, x: viewport.x + dx, y: viewport.y + dy };
}

/** Moved no more than needed to bring a point into sight. */
export function reveal(viewport: Viewport, at: Point, width: number, height: number, edge = 60): Viewport {
  const seen = toScreen(viewport, at);
  const dx = seen.x < edge ? edge - seen.x : seen.x > width - edge ? width - edge - seen.x : 0;
  const dy = seen.y < edge ? edge - seen.y : seen.y > height - edge ? height - edge - seen.y : 0;
  return pan(viewport, dx, dy);
}
