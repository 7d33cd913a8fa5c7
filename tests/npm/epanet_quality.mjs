// Runs EPANET's water quality over an input file and prints, as CSV, time in s and the quality at the named
// nodes at every quality step: node epanet_quality.mjs FILE.inp NODE...
import { readFileSync } from "node:fs";
import { InitHydOption, NodeProperty, Project, Workspace } from "epanet-js";

const [file, ...nodes] = process.argv.slice(2);
const workspace = new Workspace();
await workspace.loadModule();
workspace.writeFile("network.inp", readFileSync(file));
const project = new Project(workspace);
project.open("network.inp", "report.rpt", "out.bin");
project.solveH();
project.openQ();
project.initQ(InitHydOption.NoSave);
const indices = nodes.map((node) => project.getNodeIndex(node));
for (let left = 1; left > 0; left = project.stepQ()) {
  const time = project.runQ();
  console.log([time, ...indices.map((index) => project.getNodeValue(index, NodeProperty.Quality))].join(","));
}
project.closeQ();
project.close();
