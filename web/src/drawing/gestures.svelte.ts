// Mouse, finger and two fingers on the drawing, told apart and handed on as what they mean.
import type { Point } from './geometry';
import type { Thing } from './walk';

export interface Meanings {
  pan: (dx: number, dy: number) => void;
  zoom: (factor: number, at: Point) => void;
  tap: (thing: Thing | null, more: boolean) => void;
  band: (from: Point, to: Point, more: boolean) => void;
  drop: (outlet: string, at: Point) => void;
  mayDrag: () => boolean;
  banding: () => boolean;
}

const slack_px = 5;

function thingAt(target: EventTarget | null): Thing | null {
  const element = target instanceof Element ? target.closest<SVGElement>('[data-kind]') : null;
  const { kind, id } = element?.dataset ?? {};
  if ((kind === 'run' || kind === 'outlet' || kind === 'node') && id !== undefined) return { kind, id };
  return null;
}

export class Gestures {
  box = $state.raw<{ from: Point; to: Point } | null>(null);
  dragging = $state.raw<{ outlet: string; from: Point; to: Point } | null>(null);
  /** Somebody moved or zoomed: the view is theirs from now on. */
  touched = false;
  #fingers = new Map<number, Point>();
  #start: { at: Point; thing: Thing | null; banding: boolean } | null = null;
  #moved = false;

  constructor(readonly mean: Meanings) {}

  #at(event: MouseEvent): Point {
    const frame = (event.currentTarget as Element).getBoundingClientRect();
    return { x: event.clientX - frame.left, y: event.clientY - frame.top };
  }

  wheel = (event: WheelEvent): void => {
    event.preventDefault();
    this.touched = true;
    const lines = event.deltaMode === 1 ? 16 : 1;
    this.mean.zoom(Math.exp(-event.deltaY * lines * (event.ctrlKey ? 0.01 : 0.0016)), this.#at(event));
  };

  down = (event: PointerEvent): void => {
    if (event.button > 1) return;
    const at = this.#at(event);
    (event.currentTarget as Element).setPointerCapture(event.pointerId);
    (event.currentTarget as SVGElement).focus({ preventScroll: true });
    this.#fingers.set(event.pointerId, at);
    this.#moved = this.#fingers.size > 1;
    this.box = null;
    this.dragging = null;
    const banding = event.button === 0 && (this.mean.banding() || event.shiftKey);
    this.#start = { at, thing: thingAt(event.target), banding };
  };

  move = (event: PointerEvent): void => {
    const before = this.#fingers.get(event.pointerId);
    if (!before || !this.#start) return;
    const at = this.#at(event);
    if (this.#fingers.size > 1) this.#pinch(event.pointerId, at);
    else this.#drag(before, at);
    if (this.#moved) this.#fingers.set(event.pointerId, at);
  };

  #pinch(id: number, at: Point): void {
    const before = this.#fingers.get(id);
    const other = [...this.#fingers].find(([key]) => key !== id)?.[1];
    if (!before || !other) return;
    this.touched = true;
    const apart = (a: Point, b: Point) => Math.max(1, Math.hypot(a.x - b.x, a.y - b.y));
    this.mean.pan((at.x - before.x) / 2, (at.y - before.y) / 2);
    const middle = { x: (at.x + other.x) / 2, y: (at.y + other.y) / 2 };
    this.mean.zoom(apart(at, other) / apart(before, other), middle);
  }

  #drag(before: Point, at: Point): void {
    const start = this.#start;
    if (!start) return;
    if (!this.#moved && Math.hypot(at.x - start.at.x, at.y - start.at.y) < slack_px) return;
    this.#moved = true;
    if (start.thing?.kind === 'outlet' && this.mean.mayDrag())
      this.dragging = { outlet: start.thing.id, from: start.at, to: at };
    else if (start.banding) this.box = { from: start.at, to: at };
    else {
      this.touched = true;
      this.mean.pan(at.x - before.x, at.y - before.y);
    }
  }

  up = (event: PointerEvent): void => {
    const at = this.#at(event);
    const more = event.shiftKey || event.ctrlKey || event.metaKey;
    if (!this.#fingers.delete(event.pointerId)) return;
    if (this.dragging) this.mean.drop(this.dragging.outlet, at);
    else if (this.box) this.mean.band(this.box.from, this.box.to, more);
    else if (!this.#moved && this.#start) this.mean.tap(this.#start.thing, more);
    this.cancel(event);
  };

  cancel = (event: PointerEvent): void => {
    this.#fingers.delete(event.pointerId);
    this.box = null;
    this.dragging = null;
    if (this.#fingers.size === 0) this.#start = null;
  };
}
