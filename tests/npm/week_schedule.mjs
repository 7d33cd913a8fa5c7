// The cheapest week of set-points as a mixed-integer linear program, solved by HiGHS. Reads a JSON list of
// problems (the structs of src/week/schedule.hpp) and prints for each, as CSV: least cost (or none), proven
// bound, seconds: node week_schedule.mjs FILE.json [SECONDS]
//
// One circular flow of one unit for each group: `y_g_k_s_t` = 1 when step k begins at temperature t with set-point
// s in force. What flows into a temperature flows out of it in the next step, the last step leads to the first.
// No state remembers anything: changes, the band and the hot hold are rows over the flow.
import { readFileSync } from "node:fs";
import loadHighs from "highs";

class Program {
  cost = [];
  rows = [];
  binaries = [];
  row(terms, relation, bound) {
    if (terms.length > 0) this.rows.push(`${text(terms)} ${relation} ${bound}`);
    else if ((relation === ">=" && bound > 0) || (relation === "=" && bound !== 0)) this.impossible = true;
  }
  toString() {
    const rows = this.rows.map((row, i) => `r${i}: ${row}`).join("\n");
    return `Minimize\ncost: ${text(this.cost)}\nSubject To\n${rows}\nBinary\n${this.binaries.join("\n")}\nEnd\n`;
  }
}
const term = ([factor, name]) => `${factor < 0 ? "-" : "+"} ${Math.abs(factor)} ${name}`;
const text = (terms) => terms.map(term).join("\n ");
const range = (count) => Array.from({ length: count }, (_, i) => i);

class Group {
  constructor(program, problem, g) {
    Object.assign(this, problem.groups[g]);
    Object.assign(this, { program, g, days: problem.days, prices: problem.prices });
    this.steps = this.days.steps_a_day * this.days.program_of_day.length;
    this.choices = this.set_points_c.map((c, s) => ({ c: c ?? -1e9, s }));
    this.moves = range(this.steps).map((k) => this.movesOf(k));
  }
  temperature(t) {
    return this.lowest_c + t * this.step_k;
  }
  movesOf(k) {
    const moves = [];
    for (const { c, s } of this.choices)
      for (const t of range(this.count)) {
        const to = this.to[s * this.count + t];
        if (to < 0 || (this.most_c !== null && c > this.most_c + 1e-9)) continue;
        const cold_c = this.temperature(Math.min(t, to));
        const warm_c = this.temperature(Math.max(t, to));
        if (cold_c < this.least_c[k] - 1e-6 * this.step_k) continue;
        moves.push({ s, t, to, cold_c, warm_c, joule: this.energy_j[s * this.count + t], name: `y_${this.g}_${k}_${s}_${t}` });
      }
    return moves;
  }
  add() {
    range(this.steps).forEach((k) => this.addStep(k));
    this.addController();
    if (this.band) this.addBand();
    if (this.hot_hold) this.addHotHold();
  }
  addStep(k) {
    const { program } = this;
    const next = this.moves[(k + 1) % this.steps];
    for (const t of range(this.count)) {
      const into = this.moves[k].filter((move) => move.to === t).map((move) => [1, move.name]);
      program.row([...into, ...next.filter((move) => move.t === t).map((move) => [-1, move.name])], "=", 0);
    }
    for (const move of this.moves[k]) {
      program.binaries.push(move.name);
      program.cost.push([(this.prices.per_kwh[k] * move.joule) / 3.6e6, move.name]);
    }
    for (const { s } of this.choices) {
      const held = this.moves[k].filter((move) => move.s === s).map((move) => [1, move.name]);
      program.row([...held, [-1, this.inForce(k, s)]], "=", 0);
      program.binaries.push(this.inForce(k, s));
    }
    program.row(this.choices.map(({ s }) => [1, this.inForce(k, s)]), "=", 1);
  }
  inForce(k, s) {
    return `u_${this.g}_${(k + this.steps) % this.steps}_${s}`;
  }
  addController() {
    const { program, days, limits } = this;
    const day = days.steps_a_day;
    const first = days.program_of_day.map((p) => days.program_of_day.indexOf(p));
    for (const k of range(this.steps)) {
      const same = first[Math.floor(k / day)] * day + (k % day);
      for (const { s } of this.choices)
        if (same !== k) program.row([[1, this.inForce(k, s)], [-1, this.inForce(same, s)]], "=", 0);
      this.addChange(k, (k % day) % limits.begin_every_steps === 0);
    }
    for (const d of range(first.length))
      program.row(range(day).map((k) => [1, `change_${this.g}_${d * day + k}`]), "<=", limits.most_changes_a_day);
  }
  addChange(k, allowed) {
    const change = `change_${this.g}_${k}`;
    this.program.binaries.push(change);
    if (!allowed) this.program.row([[1, change]], "=", 0);
    if (this.steps === 1) return;
    for (const { s, c } of this.choices) {
      this.program.row([[1, this.inForce(k, s)], [-1, this.inForce(k - 1, s)], [-1, change]], "<=", 0);
      for (const other of this.choices)
        if (other.s !== s && Math.abs(other.c - c) < this.limits.least_change_k - 1e-9)
          this.program.row([[1, this.inForce(k - 1, other.s)], [1, this.inForce(k, s)]], "<=", 1);
    }
  }
  addBand() {
    const inBand = ({ cold_c, warm_c }) =>
      cold_c < this.band.high_c - 1e-9 && (this.band.low_c === null || warm_c > this.band.low_c + 1e-9);
    for (const k of range(this.steps)) {
      const ahead = range(this.band.most_steps + 1).map((i) => (k + i) % this.steps);
      const terms = ahead.flatMap((i) => this.moves[i].filter(inBand).map((move) => [1, move.name]));
      this.program.row(terms, "<=", this.band.most_steps);
    }
  }
  addHotHold() {
    const { steps_a_day } = this.days;
    const starts = range(this.steps).filter((k) => (k % steps_a_day) + this.hot_hold.steps <= steps_a_day);
    for (const k of starts) {
      const start = `hold_${this.g}_${k}`;
      this.program.binaries.push(start);
      for (const i of range(this.hot_hold.steps)) {
        const hot = this.moves[k + i].filter((move) => move.cold_c >= this.hot_hold.at_least_c - 1e-9);
        this.program.row([...hot.map((move) => [1, move.name]), [-1, start]], ">=", 0);
      }
    }
    this.program.row(starts.map((k) => [1, `hold_${this.g}_${k}`]), ">=", 1);
  }
}

function programOf(problem) {
  const program = new Program();
  const groups = problem.groups.map((_, g) => new Group(program, problem, g));
  for (const group of groups) group.add();
  let constant = 0;
  problem.prices.demand.forEach(({ per_kw, in_window }, j) => {
    const other = (k) => problem.other_load_w[k] ?? 0;
    const inside = in_window.flatMap((flag, k) => (flag ? [k] : []));
    const others_w = Math.max(0, ...inside.map(other));
    const peak = `peak_${j}`; // kW
    program.cost.push([per_kw, peak]);
    constant -= (per_kw * others_w) / 1000;
    program.row([[1, peak]], ">=", others_w / 1000);
    for (const k of inside) {
      const load = groups.flatMap((group) => group.moves[k].map((move) => [-move.joule / group.step_s / 1000, move.name]));
      program.row([[1, peak], ...load], ">=", other(k) / 1000);
    }
  });
  return { program, constant };
}

const [file, seconds = "100"] = process.argv.slice(2);
const highs = await loadHighs();
for (const problem of JSON.parse(readFileSync(file))) {
  const begin = performance.now();
  const { program, constant } = programOf(problem);
  highs.withModel({ format: "lp", data: program.toString() }, (model) => {
    model.options.set({ output_flag: false, mip_rel_gap: 1e-9, mip_abs_gap: 1e-9, mip_feasibility_tolerance: 1e-9, primal_feasibility_tolerance: 1e-9, time_limit: Number(seconds) });
    model.run();
    const proven = model.info.get("mip_dual_bound");
    const cost = model.getObjectiveValue();
    const possible = !program.impossible && Number.isFinite(proven) && Math.abs(proven) < 1e20;
    console.log((possible ? [cost + constant, proven + constant] : ["inf", "inf"]).concat((performance.now() - begin) / 1000).join(","));
  });
}
