// The division of piping into circuits as a mixed-integer linear program, solved by HiGHS. Reads a JSON list of
// problems (the structs of src/power/partition.hpp; no previous layout, no edge longer than a circuit may be)
// and prints for each, as CSV: least cost, proven bound, seconds:
// node partition_milp.mjs FILE.json [SECONDS]
//
// A circuit is named after the first of its edges; `in_e_r` = 1 puts edge e on circuit r, which needs the edge
// before e on the way from r. Every circuit has one feed and one breaker; tees at a node are the cables that
// meet there less two, less one where it is fed, and ends are one more than the tees.
import { readFileSync } from "node:fs";
import loadHighs from "highs";

class Program {
  cost = [];
  rows = [];
  binaries = [];
  binary(name, cost = 0) {
    this.binaries.push(name);
    return this.amount(name, cost);
  }
  amount(name, cost = 0) {
    if (cost !== 0) this.cost.push([cost, name]);
    return name;
  }
  row(terms, relation, bound) {
    this.rows.push(`${text(terms)} ${relation} ${bound}`);
  }
  toString() {
    const rows = this.rows.map((row, i) => `r${i}: ${row}`).join("\n");
    const binaries = this.binaries.join("\n");
    return `Minimize\ncost: ${text(this.cost)}\nSubject To\n${rows}\nBinary\n${binaries}\nEnd\n`;
  }
}

const term = ([factor, name]) => `${factor < 0 ? "-" : "+"} ${Math.abs(factor)} ${name}`;
const text = (terms) => terms.map(term).join("\n ");

class Tree {
  constructor(problem) {
    Object.assign(this, problem);
    this.leaving = Array.from({ length: this.edges.length + 1 }, () => []);
    this.edges.forEach((edge, i) => this.leaving[edge.parent + 1].push(i));
  }
  longest(kind) {
    return Math.max(...this.kinds[kind].ratings.map((rating) => rating.longest_m));
  }
  // Edges that circuit r can hold with the one before each on the way from r, and their nodes.
  reach(r) {
    const { kind, parent, length_m } = this.edges[r];
    const longest_m = this.longest(kind) + 1e-7;
    const before = new Map([[r, null]]);
    const top = parent + 1;
    const waiting = [[r, length_m]];
    const visit = (edge, from, way_m) => {
      const total_m = way_m + this.edges[edge].length_m;
      if (this.edges[edge].kind !== kind || total_m > longest_m) return;
      before.set(edge, from);
      waiting.push([edge, total_m]);
    };
    for (const sibling of this.leaving[top]) if (sibling > r) visit(sibling, r, length_m);
    while (waiting.length > 0) {
      const [edge, way_m] = waiting.pop();
      for (const branch of this.leaving[edge + 1]) visit(branch, edge, way_m);
    }
    return { before, top };
  }
}

function addCircuit(program, tree, r, of) {
  const { before, top } = tree.reach(r);
  const kind = tree.kinds[tree.edges[r].kind];
  const member = (edge) => `in_${edge}_${r}`;
  for (const [edge, from] of before) {
    program.binary(member(edge), edge === r ? tree.costs.connection + tree.costs.end : 0);
    of[edge].push([1, member(edge)]);
    if (from !== null) program.row([[1, member(edge)], [-1, member(from)]], "<=", 0);
  }
  addBreaker(program, tree, r, kind, [...before.keys()].map((edge) => [tree.edges[edge].length_m, member(edge)]));
  const cablesAt = (node) => tree.leaving[node].filter((edge) => before.has(edge)).map((edge) => [1, member(edge)]);
  const feeds = [addNode(program, tree, r, top, r, cablesAt(top))];
  for (const edge of before.keys())
    feeds.push(addNode(program, tree, r, edge + 1, edge, [[1, member(edge)], ...cablesAt(edge + 1)]));
  program.row([...feeds.filter((feed) => feed !== null).map((feed) => [1, feed]), [-1, member(r)]], "=", 0);
}

function addBreaker(program, tree, r, kind, lengths) {
  const ratings = kind.ratings.map((rating, i) => [rating.longest_m, program.binary(`breaker_${i}_${r}`, rating.cost)]);
  program.row([...ratings.map(([, name]) => [1, name]), [-1, `in_${r}_${r}`]], "=", 0);
  program.row([...lengths, ...ratings.map(([longest_m, name]) => [-longest_m, name])], "<=", 0);
  if (kind.spare_cost_per_m === 0) return;
  const spare = program.amount(`spare_${r}`, kind.spare_cost_per_m);
  const kept = ratings.map(([longest_m, name]) => [-longest_m * (1 - kind.spare_frac), name]);
  program.row([...lengths, ...kept, [-1, spare]], "<=", 0);
}

// `edge` lies on the circuit whenever the node does.
function addNode(program, tree, r, node, edge, cables) {
  const member = `in_${edge}_${r}`;
  const price = tree.kinds[tree.edges[r].kind].feed_cost[node];
  const feed = price === null ? null : program.binary(`feed_${node}_${r}`, price);
  const fed = feed === null ? [] : [[1, feed]];
  if (feed !== null) program.row([[1, feed], [-1, member]], "<=", 0);
  const tees = program.amount(`tees_${node}_${r}`, tree.costs.tee + tree.costs.end);
  program.row([...merged([...cables, [-2, member]]), ...fed, [-1, tees]], "<=", 0);
  if (tree.spliced.length > 0 && tree.spliced[node]) {
    const splice = program.amount(`splice_${node}_${r}`, tree.costs.splice);
    program.row([...merged([...cables, [-1, member]]), [-2, tees], [-1, splice]], "<=", 0);
  }
  return feed;
}

function merged(terms) {
  const sum = new Map();
  for (const [factor, name] of terms) sum.set(name, (sum.get(name) ?? 0) + factor);
  return [...sum].filter(([, factor]) => factor !== 0).map(([name, factor]) => [factor, name]);
}

function programOf(tree) {
  const program = new Program();
  const of = tree.edges.map(() => []);
  tree.edges.forEach((edge, r) => {
    if (edge.kind >= 0) addCircuit(program, tree, r, of);
  });
  tree.edges.forEach((edge, i) => {
    if (edge.kind >= 0) program.row(of[i], "=", 1);
  });
  const circuits = (edge) => new Map(of[edge].map(([, name]) => [name.split("_")[2], name]));
  for (const [a, b] of tree.apart) {
    const others = circuits(b);
    for (const [r, name] of circuits(a)) if (others.has(r)) program.row([[1, name], [1, others.get(r)]], "<=", 1);
  }
  for (const [a, b] of tree.together) {
    const of_a = circuits(a);
    const of_b = circuits(b);
    for (const r of new Set([...of_a.keys(), ...of_b.keys()])) {
      const terms = [];
      if (of_a.has(r)) terms.push([1, of_a.get(r)]);
      if (of_b.has(r)) terms.push([-1, of_b.get(r)]);
      program.row(terms, "=", 0);
    }
  }
  return program;
}

const [file, seconds = "600"] = process.argv.slice(2);
const highs = await loadHighs();
for (const problem of JSON.parse(readFileSync(file))) {
  const begin = performance.now();
  highs.withModel({ format: "lp", data: programOf(new Tree(problem)).toString() }, (model) => {
    model.options.set({ output_flag: false, mip_rel_gap: 0, mip_abs_gap: 1e-6, time_limit: Number(seconds) });
    model.run();
    const proven = model.info.get("mip_dual_bound");
    console.log([model.getObjectiveValue(), proven, (performance.now() - begin) / 1000].join(","));
  });
}
