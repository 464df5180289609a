// Holds src against import-table.json. A cruise that looked at nothing would find nothing, so what it saw is
// compared with what is on the disk. An argument names another folder that holds an src to look at.
import { spawnSync } from "node:child_process";
import { readFileSync, readdirSync } from "node:fs";
import { resolve } from "node:path";
import { fileURLToPath } from "node:url";

const project = fileURLToPath(new URL("..", import.meta.url));
const root = resolve(process.argv[2] ?? project);
const atLeast = 10;

const cruise = spawnSync(
  process.execPath,
  [
    `${project}/node_modules/dependency-cruiser/bin/dependency-cruise.mjs`,
    "src",
    "--config",
    `${project}/.dependency-cruiser.cjs`,
    "--output-type",
    "json",
  ],
  { cwd: root, encoding: "utf8", maxBuffer: 1 << 28 },
);
if (cruise.error !== undefined || cruise.stdout === "") {
  process.stderr.write(`${cruise.error?.message ?? cruise.stderr}\n`);
  process.exit(1);
}
const { modules, summary } = JSON.parse(cruise.stdout);

const seen = new Set(modules.map(({ source }) => source).filter((source) => source.startsWith("src/")));
const onDisk = readdirSync(`${root}/src`, { recursive: true })
  .map((path) => `src/${path.replaceAll("\\", "/")}`)
  .filter((path) => path.endsWith(".ts"));
const { units } = JSON.parse(readFileSync(`${project}/import-table.json`, "utf8"));
const unitOf = (path) => path.split("/")[1];

const complaints = [
  ...summary.violations.map(({ rule, from, to, cycle }) => {
    const path = cycle === undefined ? [to] : cycle.map((step) => step.name ?? step);
    return `${rule.name}: ${[from, ...path].join(" -> ")}`;
  }),
  ...onDisk.filter((path) => !seen.has(path)).map((path) => `not looked at: ${path}`),
  ...[...new Set(onDisk.map(unitOf))]
    .filter((unit) => !Object.hasOwn(units, unit))
    .map((unit) => `no row in import-table.json: src/${unit}`),
];
if (seen.size <= atLeast) {
  complaints.push(`saw ${seen.size} modules under src; more than ${atLeast} were expected`);
}

for (const complaint of complaints) process.stderr.write(`${complaint}\n`);
if (complaints.length > 0) process.exit(1);
process.stdout.write(
  `imports: ${seen.size} modules and ${summary.totalDependenciesCruised} imports hold to the table\n`,
);
