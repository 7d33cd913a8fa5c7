// What a technician does on the phone, for the tests.
import { expect, type Locator, type Page } from '@playwright/test';

export const technician = 'Ada Example';

export async function openCircuit(page: Page, address: string, job: string, circuit: string): Promise<void> {
  await page.goto(`${address}/c/${job}/${circuit}`);
  await expect(page.getByRole('heading', { level: 1, name: circuit })).toBeVisible();
  await expect(page.locator('[data-kind]').first()).toBeAttached();
}

/** The field of a kind of reading, its stage unfolded. */
export async function field(page: Page, kind: string, stage: string): Promise<Locator> {
  const found = page.locator(`section[data-kind="${kind}"][data-stage="${stage}"]`).first();
  await page.locator(`details.stage[data-stage="${stage}"]`).evaluate((details: HTMLDetailsElement) => {
    details.open = true;
  });
  return found;
}

export async function type(page: Page, kind: string, stage: string, value: string): Promise<Locator> {
  const here = await field(page, kind, stage);
  await here.locator('input.value').fill(value);
  return here;
}

/** Keeps what is filled in; gives the name when it is asked for. */
export async function keep(page: Page): Promise<void> {
  const button = page.locator('.bar button.main');
  await button.click();
  const name = page.locator('.bar').getByLabel('Your name');
  if (await name.isVisible()) {
    await name.fill(technician);
    await name.blur();
    await button.click();
  }
  await expect(page.locator('.bar')).toHaveCount(0);
}

export async function keepNote(page: Page, text: string): Promise<void> {
  await page.getByRole('textbox', { name: 'Note' }).fill(text);
  await page.getByRole('button', { name: 'Keep the note' }).click();
  await expect(page.getByRole('textbox', { name: 'Note' })).toHaveValue('');
}

/** Writes the name that is asked for once, as the device remembers it. */
export async function introduce(page: Page): Promise<void> {
  await page.getByText('Sign', { exact: true }).click();
  const name = page.getByLabel('Your name');
  await name.fill(technician);
  await name.blur();
  await page.getByText('Sign', { exact: true }).click();
}

export function entries(page: Page, state: string): Locator {
  return page.locator(`#entries [data-entry][data-state="${state}"]`);
}
