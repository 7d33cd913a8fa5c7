// What the field side asks the server and remembers on the device, by key.
import { answer, client, type Schemas } from '../lib/api';
import { choices } from '../lib/choices.svelte';
import { putAnswer } from './device';

const patienceMs = 15_000;
const signal = () => AbortSignal.timeout(patienceMs);
/** The units that were chosen on this device; none: those of the job. */
const inUnits = () => (choices.units === 'job' ? {} : { query: { units: choices.units } });

export function askView(job: string): Promise<Schemas['View']> {
  const params = { path: { job }, query: { samples: 0 } };
  return answer(client.GET('/api/jobs/{job}/view', { params, signal: signal() }));
}

export function askJobs(): Promise<Schemas['JobEntry'][]> {
  return answer(client.GET('/api/jobs', { signal: signal() }));
}

export function askCircuit(job: string, circuit: string): Promise<Schemas['CircuitPage']> {
  const params = { path: { job, circuit }, ...inUnits() };
  return answer(client.GET('/api/jobs/{job}/circuits/{circuit}', { params, signal: signal() }));
}

export function askRecords(job: string): Promise<Schemas['RecordEntry'][]> {
  return answer(client.GET('/api/jobs/{job}/records', { params: { path: { job } }, signal: signal() }));
}

export function judge(job: string, body: Schemas['Readings']): Promise<Schemas['Verdict'][]> {
  const params = { path: { job }, ...inUnits() };
  return answer(client.POST('/api/jobs/{job}/judge', { params, body, signal: signal() }));
}

export function diagnose(job: string, body: Schemas['Readings']): Promise<Schemas['Diagnosis']> {
  const params = { path: { job }, ...inUnits() };
  return answer(
    client.POST('/api/jobs/{job}/diagnose', { params, body, signal: AbortSignal.timeout(60_000) }),
  );
}

export const keys = {
  jobs: 'jobs',
  view: (job: string) => `view/${job}`,
  circuit: (job: string, circuit: string) => `circuit/${job}/${circuit}`,
  records: (job: string) => `records/${job}`,
};

/** Fetches the page of each circuit for use without connection; `done` after each. Stops at the first failure. */
export async function fetchAhead(
  job: string,
  circuits: string[],
  done: (count: number) => void,
): Promise<void> {
  let count = 0;
  for (const circuit of circuits) {
    await putAnswer(keys.circuit(job, circuit), await askCircuit(job, circuit), Date.now());
    done(++count);
  }
}
