// The division of piping into circuits as a choice among all connected sets of edges that one circuit could be,
// each edge in exactly one, solved by HiGHS. Reads and prints what partition_milp.mjs does, and as fourth column
// the number of sets: node partition_sets.mjs FILE.json [SECONDS]
import { readFileSync } from "node:fs";
import loadHighs from "highs";

// Sets that hold one of `lists` each or none of it: every way to join what hangs on one node.
function joined(first, lists, longest_m) {
  let sets = [first];
  for (const list of lists) {
    const more = [];
    for (const set of sets)
      for (const branch of list)
        if (set.length_m + branch.length_m <= longest_m)
          more.push({ edges: [...set.edges, ...branch.edges], length_m: set.length_m + branch.length_m });
    sets = sets.concat(more);
  }
  return sets;
}

function setsOf(problem) {
  const leaving = Array.from({ length: problem.edges.length + 1 }, () => []);
  problem.edges.forEach((edge, i) => leaving[edge.parent + 1].push(i));
  const hanging = []; // by edge: sets of which it is the only uppermost edge
  const all = [];
  const longest_m = problem.kinds.map(({ ratings }) => Math.max(...ratings.map((rating) => rating.longest_m)) + 1e-7);
  const visit = (node, above) => {
    for (const edge of leaving[node]) visit(edge + 1, edge);
    const of = (kind) => leaving[node].filter((edge) => problem.edges[edge].kind === kind);
    const listsOf = (kind) => of(kind).map((edge) => hanging[edge]);
    problem.kinds.forEach((_, kind) => {
      all.push(...joined({ edges: [], length_m: 0 }, listsOf(kind), longest_m[kind]).slice(1));
    });
    if (above === null || problem.edges[above].kind < 0) return;
    const { kind, length_m } = problem.edges[above];
    hanging[above] = joined({ edges: [above], length_m }, listsOf(kind), longest_m[kind]);
  };
  visit(0, null);
  const allowed = ({ edges }) =>
    problem.apart.every(([a, b]) => !(edges.includes(a) && edges.includes(b))) &&
    problem.together.every(([a, b]) => edges.includes(a) === edges.includes(b));
  return all.filter(allowed);
}

function costOf(problem, { edges, length_m }) {
  const kind = problem.kinds[problem.edges[edges[0]].kind];
  const { connection, tee, end, splice } = problem.costs;
  const cables = new Map();
  for (const edge of edges)
    for (const node of [edge + 1, problem.edges[edge].parent + 1]) cables.set(node, (cables.get(node) ?? 0) + 1);
  const kits = (node, meeting) => {
    if (meeting === 1) return end;
    if (meeting === 2) return problem.spliced[node] ? splice : 0;
    return (meeting - 2) * tee;
  };
  let unfed = 0;
  let feeding = Infinity;
  for (const [node, meeting] of cables) {
    unfed += kits(node, meeting);
    feeding = Math.min(feeding, kind.feed_cost[node] + (meeting - 1) * tee - kits(node, meeting));
  }
  const over_m = (rating) => Math.max(0, length_m - (1 - kind.spare_frac) * rating.longest_m);
  const breakers = kind.ratings
    .filter((rating) => length_m <= rating.longest_m + 1e-7)
    .map((rating) => rating.cost + kind.spare_cost_per_m * over_m(rating));
  return connection + unfed + feeding + Math.min(...breakers);
}

function textOf(problem, sets) {
  const costs = sets.map((set, i) => `+ ${costOf(problem, set)} s${i}`);
  const holding = problem.edges.map(() => []);
  sets.forEach((set, i) => set.edges.forEach((edge) => holding[edge].push(`+ s${i}`)));
  const rows = holding.filter((terms) => terms.length > 0).map((terms, i) => `r${i}: ${terms.join("\n")} = 1`);
  const names = sets.map((_, i) => `s${i}`).join("\n");
  return `Minimize\ncost: ${costs.join("\n")}\nSubject To\n${rows.join("\n")}\nBinary\n${names}\nEnd\n`;
}

const [file, seconds = "600"] = process.argv.slice(2);
const highs = await loadHighs();
for (const problem of JSON.parse(readFileSync(file))) {
  const begin = performance.now();
  const sets = setsOf(problem);
  highs.withModel({ format: "lp", data: textOf(problem, sets) }, (model) => {
    model.options.set({ output_flag: false, mip_rel_gap: 0, mip_abs_gap: 1e-6, time_limit: Number(seconds) });
    model.run();
    const proven = model.info.get("mip_dual_bound");
    console.log([model.getObjectiveValue(), proven, (performance.now() - begin) / 1000, sets.length].join(","));
  });
}
