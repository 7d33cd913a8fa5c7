// One typed door to the server. Every refusal is a `Refused` with the server's problems.
import createClient from 'openapi-fetch';
import type { components, paths } from './api-types';

export type Schemas = components['schemas'];
export type Problems = Schemas['Problems'];

export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly problems: Problems,
  ) {
    super(problems.problems.map((problem) => problem.message).join(' ') || problems.kind);
  }
}

/** The server could not be reached: lost connection, not a refusal. */
export class Unreachable extends Error {}

export const client = createClient<paths>({ baseUrl: '', credentials: 'same-origin' });

type Answer<T> = { data?: T; error?: unknown; response: Response };

function isProblems(error: unknown): error is Problems {
  return typeof error === 'object' && error !== null && 'kind' in error && 'problems' in error;
}

/** Awaits a call of `client`; its data, or throws Refused or Unreachable. */
export async function answer<T>(call: Promise<Answer<T>>): Promise<T> {
  let result: Answer<T>;
  try {
    result = await call;
  } catch (error) {
    throw new Unreachable(error instanceof Error ? error.message : 'no connection');
  }
  if (result.response.ok) return result.data as T;
  const problems = isProblems(result.error)
    ? result.error
    : {
        kind: 'failed' as const,
        problems: [{ message: result.response.statusText, hint: '', file: '', line: 0, field: '' }],
      };
  throw new Refused(result.response.status, problems);
}
