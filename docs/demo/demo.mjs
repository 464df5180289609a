// Plans the invented work orders under docs/demo and prints the plans, then sets up a bay for one of them.
// See `npm run demo -- --help`.
import { mkdirSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const JOBS = join(ROOT, "docs/demo/jobs");
const PROCEDURES = join(ROOT, "docs/demo/procedures");
const SETUPS = join(ROOT, "docs/demo/setups");
const WIDTH = 80;

const SCENES = [
  {
    name: "glass",
    job: "glass.json",
    title: "New windshield: camera, rain sensor and head-up display behind it",
    says: "A mobile glass shop with the build sheet in hand: everything is known, so nothing is asked. The maker's procedure states the method, and asks more of the head-up display than practice does.",
  },
  {
    name: "front-collision",
    job: "front-collision.json",
    title: "Front-end collision: a headlamp, and a radar mounted nobody knows where",
    says: "An estimate before the vehicle was taken apart. What the radar stands on decides whether it is looked at or calibrated, so that is asked, and nothing is guessed.",
  },
  {
    name: "rear-quarter",
    job: "rear-quarter.json",
    title: "Rear quarter and tailgate: the equipment known only through its features",
    says: "The job card names no sensor. What the features prove is used, what they leave open is asked, and no procedure pack is for this make.",
  },
  {
    name: "lift-kit",
    job: "lift-kit.json",
    title: "Lift kit with larger tyres on a pickup",
    says: "Required and held at once: the sensors look elsewhere now, and the maker has no calibration for that height. The relearn of the pressure sensors is waived, and shown as waived.",
  },
  {
    name: "bay",
    job: "front-collision.json",
    setup: "fjell-front-collision.json",
    title: "In the bay: the targets of the front-end collision, measured with a tape",
    says: "The same vehicle after its repair. Where the targets stand on this floor, what the tape has to show, whether bay and floor will do, and which readings are good enough to decide by.",
  },
];

const HELP = `Usage: npm run demo [-- [SCENE…] [--general] [--json] [--sheets FOLDER]]

Plans invented work orders and prints the plans, and sets up a bay. Without a
scene: all of them.

Scenes:
${SCENES.map(({ name, title }) => `  ${name.padEnd(17)}${title}`)
  .flatMap((line) => wrap(line, 19))
  .join("\n")}

Options:
  --general   general rules alone, without the maker's procedures
  --json      the plans (of the bay: the set-up) as JSON, one a line
  --sheets FOLDER
              also write each scene's job card as an HTML page to print
  --help      this text

Examples:
  npm run demo -- glass
  npm run demo -- lift-kit --general
  npm run --silent demo -- rear-quarter --json
  npm run demo -- bay --sheets sheets

Exit status: 0 printed · 2 not understood, or the package is not built yet ·
3 a procedure pack was refused
`;

/** Breaks a line at blanks so that it fits the page; further lines are indented. */
function wrap(text, indent) {
  const lines = [];
  let line = "";
  for (const word of text.split(/(?<=\S) /)) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (longer.length > WIDTH && line !== "") {
      lines.push(line);
      line = " ".repeat(indent) + word;
    } else {
      line = longer;
    }
  }
  return [...lines, line];
}

function readArguments(words) {
  const options = { help: false, json: false, general: false, sheets: null };
  const names = [];
  const rest = [...words];
  for (let word = rest.shift(); word !== undefined; word = rest.shift()) {
    if (word === "-h") options.help = true;
    else if (word === "--sheets") options.sheets = rest.shift() ?? missFolder();
    else if (word.startsWith("--") && Object.hasOwn(options, word.slice(2))) options[word.slice(2)] = true;
    else if (word.startsWith("-")) refuse("option", word, ["--help", "--json", "--general", "--sheets"]);
    else if (SCENES.some(({ name }) => name === word)) names.push(word);
    else
      refuse(
        "scene",
        word,
        SCENES.map(({ name }) => name),
      );
  }
  return {
    ...options,
    scenes: names.length === 0 ? SCENES : SCENES.filter(({ name }) => names.includes(name)),
  };
}

function missFolder() {
  throw new UsageError("--sheets needs a folder to write to");
}

/** A word that is not known; the known one with fewest letters changed is offered. */
function refuse(kind, word, known) {
  const ranked = known.map((each) => ({ each, distance: distanceOf(word, each) }));
  ranked.sort((a, b) => a.distance - b.distance);
  const [nearest] = ranked;
  const hint = nearest.each.startsWith(word) || nearest.distance <= word.length / 2 ? nearest.each : null;
  throw new UsageError(
    `there is no ${kind} ${JSON.stringify(word)}; ${hint === null ? `known are ${known.join(", ")}` : `did you mean ${JSON.stringify(hint)}?`}`,
  );
}

/** Letters to insert, leave out or replace (Levenshtein); what a longer word goes on with costs nothing. */
function distanceOf(word, known) {
  if (known.startsWith(word)) return 0;
  let previous = Array.from({ length: known.length + 1 }, (_, column) => column);
  for (let row = 1; row <= word.length; row += 1) {
    const current = [row];
    for (let column = 1; column <= known.length; column += 1) {
      const replaced = previous[column - 1] + (word[row - 1] === known[column - 1] ? 0 : 1);
      current.push(Math.min(previous[column] + 1, current[column - 1] + 1, replaced));
    }
    previous = current;
  }
  return previous[known.length];
}

class UsageError extends Error {}

/** The package by its own name, as anybody who installed it would import it. */
async function loadPackage() {
  try {
    return await import("repair-calibration");
  } catch (error) {
    if (error.code !== "ERR_MODULE_NOT_FOUND") throw error;
    throw new UsageError("the package is not built yet: run npm run build first");
  }
}

function readJson(path) {
  return JSON.parse(readFileSync(path, "utf8"));
}

function loadAllProcedures({ loadProcedures }) {
  return readdirSync(PROCEDURES)
    .filter((file) => file.endsWith(".json"))
    .sort()
    .map((file) => loadProcedures(readJson(join(PROCEDURES, file)), relative(ROOT, join(PROCEDURES, file))));
}

function writeScene(scene, report) {
  const rule = "=".repeat(WIDTH);
  const made = scene.setup === undefined ? [] : [`Set-up: ${relative(ROOT, join(SETUPS, scene.setup))}`];
  return [
    rule,
    ...wrap(scene.title, 0),
    ...wrap(`Work order: ${relative(ROOT, join(JOBS, scene.job))}`, 0),
    ...made,
    "",
    ...wrap(scene.says, 0),
    rule,
    "",
    report.trimEnd(),
    "",
    "",
  ].join("\n");
}

/** What a scene comes to: as data, as a report, and as a page to print. */
function play(scene, rulebook, procedures, api) {
  const job = readJson(join(JOBS, scene.job));
  const { operations, findings } = job;
  const plan = api.planCalibrations(job, { rulebook, procedures });
  if (scene.setup === undefined) {
    const nominal = {
      schema: "repair-calibration/setup@1",
      vehicle: { dimensions: job.vehicle.dimensions },
    };
    return {
      data: plan,
      report: api.renderText(plan, { width: WIDTH, operations, findings }),
      sheet: () =>
        api.renderHtml(plan, {
          operations,
          findings,
          setup: api.checkSetup(nominal, { procedures: [], plan }),
        }),
    };
  }
  const setup = api.checkSetup(readJson(join(SETUPS, scene.setup)), { procedures, plan });
  return {
    data: setup,
    report: api.renderSetup(setup, { width: WIDTH }),
    sheet: () => api.renderHtml(plan, { operations, findings, setup }),
  };
}

function writeSheets(folder, played) {
  mkdirSync(folder, { recursive: true });
  for (const [scene, { sheet }] of played) {
    const file = join(folder, `${scene.name}.html`);
    writeFileSync(file, sheet());
    console.error(`written: ${file}`);
  }
}

async function main(words) {
  const options = readArguments(words);
  if (options.help) {
    process.stdout.write(HELP);
    return 0;
  }
  const api = await loadPackage();
  const rulebook = api.loadRulebook();
  try {
    const procedures = options.general ? [] : loadAllProcedures(api);
    // Everything is planned before anything is printed, so that a refusal leaves no half of an answer behind.
    const played = options.scenes.map((scene) => [scene, play(scene, rulebook, procedures, api)]);
    const printed = played.map(([scene, { data, report }]) =>
      options.json ? `${JSON.stringify(data)}\n` : writeScene(scene, report),
    );
    if (options.sheets !== null) writeSheets(options.sheets, played);
    process.stdout.write(printed.join(""));
    return 0;
  } catch (error) {
    if (!(error instanceof api.InputError)) throw error;
    for (const issue of error.issues) console.error(api.formatIssue(issue));
    return error.kind === "input" ? 2 : 3;
  }
}

// A reader that closes early, such as head, is no fault.
process.stdout.on("error", (error) => {
  if (error.code !== "EPIPE") throw error;
  process.exit(0);
});

try {
  process.exitCode = await main(process.argv.slice(2));
} catch (error) {
  if (!(error instanceof UsageError)) throw error;
  console.error(`demo: ${error.message}`);
  process.exitCode = 2;
}
