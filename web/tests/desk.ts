// Steps that several tests of the desk side share.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Locator, Page } from '@playwright/test';
import { expect, type Served } from './program';

export function riser(page: Page): Locator {
  return page.getByRole('listbox', { name: /drawing/i });
}

/** What the pointer meets in the middle of a run's line: a level line has no height by which its sight could be told. */
export function drawnOn(page: Page, run: string): Promise<string | undefined> {
  return page.locator(`[id="run-${run}"] path.pipe`).evaluate((path: SVGPathElement) => {
    const on = path
      .getPointAtLength(path.getTotalLength() / 2)
      .matrixTransform(path.getScreenCTM() ?? undefined);
    return document.elementFromPoint(on.x, on.y)?.closest<SVGElement>('[data-kind]')?.dataset['id'];
  });
}

export async function openDrawing(page: Page, job: string): Promise<void> {
  await page.goto(`/j/${job}`);
  await expect(riser(page)).toBeVisible();
}

export async function select(page: Page, kind: 'run' | 'outlet', id: string): Promise<void> {
  await page.goto(`${new URL(page.url()).pathname}#${kind}=${encodeURIComponent(id)}`);
  await expect(page.getByRole('heading', { name: new RegExp(`${id}$`) })).toBeVisible();
}

/** Types into a field of the panel and leaves it. */
export async function fill(page: Page, label: string, text: string): Promise<void> {
  const field = page.getByRole('complementary').getByLabel(label).first();
  await field.fill(text);
  await field.press('Enter');
}

export function onDisk(served: Served, job: string, file: string): string {
  return readFileSync(join(served.folder, job, file), 'utf8');
}

/** The row of runs.csv or outlets.csv whose first cell is `id`. */
export function rowOnDisk(served: Served, job: string, file: string, id: string): string {
  return (
    onDisk(served, job, file)
      .split('\n')
      .find((line) => line.startsWith(`${id},`)) ?? ''
  );
}

export async function choose(page: Page, choices: Record<string, string>): Promise<void> {
  await page.addInitScript(
    (kept) => localStorage.setItem('firstdraw-choices', JSON.stringify(kept)),
    choices,
  );
}
