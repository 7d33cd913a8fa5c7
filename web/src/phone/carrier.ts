// Takes files and records to the server, and says what became of each try.
import { answer, client, type Problems, Refused, type Schemas } from '../lib/api';
import type { Outcome } from './entry';
import type { Carrier, FileOutcome } from './queue';

const recordPatienceMs = 20_000;
const filePatienceMs = 120_000;

function retryAfterMs(response: Response | undefined): number | null {
  const seconds = Number(response?.headers.get('retry-after') ?? Number.NaN);
  return Number.isFinite(seconds) ? seconds * 1000 : null;
}

function refusal(status: number, problems: Problems, response: Response | undefined): Outcome {
  if (status === 401) return { is: 'later', wait: 'not-paired', afterMs: null };
  if (status === 403) return { is: 'later', wait: 'not-allowed', afterMs: null };
  if (status === 408 || status === 429 || (status > 500 && status < 600))
    return { is: 'later', wait: 'busy', afterMs: retryAfterMs(response) };
  if (status === 500) return { is: 'failed', problems: problems.problems };
  return { is: 'refused', problems: problems.problems };
}

/** `call` with its answer; a refusal and a lost connection as outcomes. */
async function attempt<T, O>(
  call: Promise<{ data?: T; error?: unknown; response: Response }>,
  done: (data: T) => O,
): Promise<O | Outcome> {
  let response: Response | undefined;
  const seen = call.then((result) => {
    response = result.response;
    return result;
  });
  try {
    return done(await answer(seen));
  } catch (error) {
    if (error instanceof Refused) return refusal(error.status, error.problems, response);
    return { is: 'later', wait: 'unreachable', afterMs: null };
  }
}

function file(blob: Blob): Promise<FileOutcome> {
  const call = client.POST('/api/files', {
    body: blob as unknown as string,
    bodySerializer: (body) => body as unknown as BodyInit,
    headers: { 'content-type': 'application/octet-stream' },
    signal: AbortSignal.timeout(filePatienceMs),
  });
  return attempt<Schemas['Photo'], FileOutcome>(call, (photo) => ({ is: 'stored', sha256: photo.sha256 }));
}

function record(job: string, body: Schemas['NewRecord']): Promise<Outcome> {
  const call = client.POST('/api/jobs/{job}/records', {
    params: { path: { job } },
    body,
    signal: AbortSignal.timeout(recordPatienceMs),
  });
  return attempt<Schemas['Kept'], Outcome>(call, (kept) => ({
    is: 'kept',
    number: kept.number,
    hash: kept.hash,
  }));
}

export const carrier: Carrier = { file, record };
