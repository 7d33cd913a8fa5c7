// What the code on a label says: `firstdraw:PROJECT/CIRCUIT` as printed; an address that the job states, in the form
// ADDRESS/j/JOB#circuit=CIRCUIT or that of the circuit's page, ADDRESS/c/JOB/CIRCUIT; or a bare id.
export interface Label {
  /** Project number of the site; null: the code does not say. */
  project: string | null;
  /** Job by the name of its folder; null: the code does not say. */
  job: string | null;
  circuit: string;
  /** Host of the address that it is; null: it is none. */
  host: string | null;
}

function decoded(part: string): string | null {
  try {
    return decodeURIComponent(part);
  } catch {
    return null;
  }
}

function printed(text: string): Label | null {
  const found = /^firstdraw:([^/]*)\/([^/]+)$/i.exec(text);
  if (!found) return null;
  const project = decoded(found[1] ?? '');
  const circuit = decoded(found[2] ?? '');
  return project === null || !circuit ? null : { project, job: null, circuit, host: null };
}

function urlOf(text: string): URL | null {
  try {
    return new URL(text);
  } catch {
    return null;
  }
}

function address(text: string): Label | null {
  const url = /^https?:\/\//i.test(text) ? urlOf(text) : null;
  if (!url) return null;
  const { host, pathname, hash } = url;
  const found =
    /\/c\/([^/]+)\/([^/]+)\/?$/.exec(pathname) ?? /\/j\/([^/]+)\/?#circuit=(.+)$/.exec(pathname + hash);
  const job = decoded(found?.[1] ?? '');
  const circuit = decoded(found?.[2] ?? '');
  return job && circuit ? { project: null, job, circuit, host } : null;
}

function bare(text: string): Label | null {
  return /[:/]/.test(text) ? null : { project: null, job: null, circuit: text, host: null };
}

/** Null: not one of ours. */
export function readLabel(text: string): Label | null {
  const trimmed = text.trim();
  return trimmed ? (printed(trimmed) ?? address(trimmed) ?? bare(trimmed)) : null;
}

interface KnownJob {
  id: string;
  name: string;
  project_number?: string;
  /** Web address that the job states for its labels. */
  address?: string;
}

/** Where the scanner is: before the circuits of `job`, on a page of `host`. */
export interface Standing {
  job: string;
  circuits: string[];
  /** Null: never heard of on this device. */
  jobs: KnownJob[] | null;
  host: string;
}

export type Landing =
  | { is: 'circuit'; job: string; circuit: string }
  | { is: 'unknown-circuit'; circuit: string }
  | { is: 'other-job'; job: string; name: string; circuit: string }
  | { is: 'other-project'; project: string }
  | { is: 'other-building'; job: string; host: string }
  | { is: 'cannot-tell' };

/** What is wrong with a label as one of this job; null: nothing. */
function foreign(label: Label, at: Standing): Landing | null {
  const here = at.jobs?.find((each) => each.id === at.job);
  const elsewhere = (other: KnownJob): Landing => ({
    is: 'other-job',
    job: other.id,
    name: other.name,
    circuit: label.circuit,
  });
  if (label.host !== null && label.job !== null) {
    const { host, job } = label;
    const named = at.jobs?.find((each) => each.id === job);
    if (host !== at.host && host !== urlOf(named?.address ?? '')?.host)
      return { is: 'other-building', job, host };
    if (job === at.job) return null;
    return named ? elsewhere(named) : { is: 'other-building', job, host };
  }
  if (!label.project || here?.project_number === label.project) return null;
  if (!here) return { is: 'cannot-tell' };
  const others = at.jobs?.filter((each) => each.project_number === label.project) ?? [];
  return others.length === 1 && others[0]
    ? elsewhere(others[0])
    : { is: 'other-project', project: label.project };
}

/** Where a label leads. One of another building never opens a circuit of this one. */
export function landing(label: Label, at: Standing): Landing {
  const known = at.circuits.find((id) => id.toLowerCase() === label.circuit.toLowerCase());
  return (
    foreign(label, at) ??
    (known
      ? { is: 'circuit', job: at.job, circuit: known }
      : { is: 'unknown-circuit', circuit: label.circuit })
  );
}
