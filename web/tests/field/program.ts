// A phone at the pipe: the program for each test alone, for what goes into its book stays there.
import { test as base } from '@playwright/test';
import type { components } from '../../src/lib/api-types';
import { type Served, serve } from '../program';

export { serve } from '../program';
export type Schemas = components['schemas'];

/** A test at the size of a phone, with the program for itself. */
export const test = base.extend<{ served: Served }>({
  viewport: { width: 390, height: 844 },
  isMobile: true,
  hasTouch: true,
  // biome-ignore lint/correctness/noEmptyPattern: the form that fixtures have
  served: async ({}, use) => {
    const served = await serve();
    await use(served);
    served.stop();
  },
});

export { expect } from '@playwright/test';

export async function book(address: string, job: string): Promise<Schemas['RecordEntry'][]> {
  const response = await fetch(`${address}/api/jobs/${job}/records`);
  if (!response.ok) throw new Error(await response.text());
  return (await response.json()) as Schemas['RecordEntry'][];
}
