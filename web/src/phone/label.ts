// What the code on a label says: `firstdraw:PROJECT/CIRCUIT` as printed, the address of a circuit's page, or a bare id.
export interface Label {
  /** Project number of the site; null: the code does not say. */
  project: string | null;
  /** Job by the name of its folder; null: the code does not say. */
  job: string | null;
  circuit: string;
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
  return project === null || !circuit ? null : { project, job: null, circuit };
}

function address(text: string): Label | null {
  const found = /^https?:\/\/[^/]+\/c\/([^/?#]+)\/([^/?#]+)\/?$/i.exec(text);
  const job = decoded(found?.[1] ?? '');
  const circuit = decoded(found?.[2] ?? '');
  return job && circuit ? { project: null, job, circuit } : null;
}

/** Null: not one of ours. */
export function readLabel(text: string): Label | null {
  const bare = text.trim();
  if (!bare) return null;
  return (
    printed(bare) ?? address(bare) ?? (/[:/]/.test(bare) ? null : { project: null, job: null, circuit: bare })
  );
}

interface KnownJob {
  id: string;
  project_number?: string;
}

export type Landing =
  | { is: 'circuit'; job: string; circuit: string }
  | { is: 'unknown-circuit'; circuit: string }
  | { is: 'other-project'; project: string };

/** Where a label leads, standing in `job` with `circuits`. A label of another project never opens a circuit of this one. */
export function landing(label: Label, job: string, circuits: string[], jobs: KnownJob[]): Landing {
  const here = jobs.find((each) => each.id === job);
  const known = circuits.find((id) => id.toLowerCase() === label.circuit.toLowerCase());
  if (label.job && label.job !== job) return { is: 'circuit', job: label.job, circuit: label.circuit };
  if (label.project !== null && here?.project_number !== undefined && here.project_number !== label.project) {
    const other = jobs.filter((each) => each.project_number === label.project);
    return other.length === 1 && other[0]
      ? { is: 'circuit', job: other[0].id, circuit: label.circuit }
      : { is: 'other-project', project: label.project };
  }
  return known ? { is: 'circuit', job, circuit: known } : { is: 'unknown-circuit', circuit: label.circuit };
}
