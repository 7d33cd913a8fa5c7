// What is selected on the drawing, and what the keyboard is at.
import { same, type Thing } from './walk';

export class Selection {
  things = $state.raw<Thing[]>([]);
  at = $state.raw<Thing | null>(null);

  ids(kind: Thing['kind']): string[] {
    return this.things.filter((thing) => thing.kind === kind).map((thing) => thing.id);
  }

  has(thing: Thing): boolean {
    return this.things.some((each) => same(each, thing));
  }

  only(thing: Thing): void {
    this.things = [thing];
    this.at = thing;
  }

  toggle(thing: Thing): void {
    this.things = this.has(thing)
      ? this.things.filter((each) => !same(each, thing))
      : [...this.things, thing];
    this.at = thing;
  }

  set(things: Thing[]): void {
    this.things = things;
    this.at = things[0] ?? null;
  }

  clear(): void {
    this.things = [];
  }
}
