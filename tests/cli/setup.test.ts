import { readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { makeFolder, runCli } from "./run-cli.js";

const demo = fileURLToPath(new URL("../../docs/demo/", import.meta.url));
const folder = makeFolder();
const fjell = join(demo, "setups/fjell-front-collision.json");
const pack = join(demo, "procedures/norrvik-fjell.json");
const job = join(demo, "jobs/front-collision.json");
const fjellText = readFileSync(fjell, "utf8");

const VEHICLE = {
  make: "Alcora",
  model: "Tresk",
  modelYear: 2025,
  dimensions: { wheelbase: 2700, trackFront: 1540, trackRear: 1540, frontOverhang: 900 },
};
/** A target placed by the document itself, whose frame stands 175 mm too low. */
const REFLECTOR = {
  sensor: "front-radar",
  id: "reflector",
  placing: {
    name: "Corner reflector",
    datum: "front-bumper",
    referenceLine: "centre-line",
    distance: { nominal: 1500, tolerance: 10 },
    lateral: { nominal: 0, tolerance: 3 },
    height: { nominal: 1350, tolerance: 5 },
    yaw: { nominal: 0, tolerance: 0.5 },
    pitch: { nominal: 0, tolerance: 0.5 },
    roll: { nominal: 0, tolerance: 1 },
  },
  measured: { height: 1175 },
  U: { height: 2 },
  k: 2,
};
const SETUP = {
  schema: "repair-calibration/setup@1",
  reference: "RO-31",
  vehicle: VEHICLE,
  targets: [REFLECTOR],
};
const setup = folder.write("setup.json", SETUP);

const inBay = folder.write("in-bay.json", { ...SETUP, bay: { length: 12_000, width: 5_000 } });

interface Result {
  readonly reference: string | null;
  readonly targets: readonly {
    readonly requirements: readonly string[];
    readonly corrections: readonly { readonly amount: number | null }[];
    readonly decisions: readonly { readonly verdict: string }[];
  }[];
}

describe("setup", () => {
  it("says what stands wrong by how much, as text, with exit status 0 whatever the verdict", async () => {
    const { status, out, err } = await runCli(["setup", setup]);
    expect({ status, err }).toEqual({ status: 0, err: "" });
    // 1350 less 1175.
    expect(out).toContain("Raise it by 175");
    expect(out.split("\n").filter((line) => line.length > 80)).toEqual([]);
  });

  it("writes lengths in inches where asked", async () => {
    const { status, out } = await runCli(["setup", setup, "--units", "in"]);
    expect(status).toBe(0);
    // 175 / 25.4 = 6.89; to the sixteenth 6 14/16.
    expect(out).toContain("6 7/8 in (6.89 in)");
    expect((await runCli(["setup", setup])).out).not.toContain(" in (");
  });

  it("writes the same JSON on standard output, into a file, and from standard input", async () => {
    const file = join(folder.path, "result.json");
    const printed = await runCli(["setup", setup, "--format", "json"]);
    expect(await runCli(["setup", setup, "--format", "json", "--out", file])).toEqual({
      status: 0,
      out: "",
      err: "",
    });
    expect(readFileSync(file, "utf8")).toBe(printed.out);
    const piped = await runCli(["setup", "-", "--format", "json"], { input: JSON.stringify(SETUP) });
    expect(piped).toEqual(printed);
    const result = JSON.parse(printed.out) as Result;
    expect(result).toMatchObject({ schema: "repair-calibration/setup-result@1", reference: "RO-31" });
    expect(result.targets[0]?.corrections.map(({ amount }) => amount)).toEqual([175]);
    expect(result.targets[0]?.decisions.map(({ verdict }) => verdict)).toEqual(["does-not-conform"]);
  });

  it("writes a sheet and either drawing", async () => {
    const html = await runCli(["setup", setup, "--format", "html"]);
    expect(html.status).toBe(0);
    expect(html.out).toMatch(/^<!doctype html>/i);
    const plan = await runCli(["setup", inBay, "--format", "svg"]);
    const side = await runCli(["setup", inBay, "--format", "svg", "--drawing", "side-view"]);
    for (const drawing of [plan, side]) {
      expect(drawing.status).toBe(0);
      expect(drawing.out).toMatch(/^<svg [\s\S]*<\/svg>\s*$/);
    }
    expect(side.out).not.toBe(plan.out);
    const stated = ["--drawing", "floor-plan", "--set-up", "S1"];
    expect(await runCli(["setup", inBay, "--format", "svg", ...stated])).toEqual(plan);
  });

  it("takes what is asked of the bay from a pack, and with a job from its plan", async () => {
    const requirementsWith = async (...more: readonly string[]): Promise<ReadonlySet<string>> => {
      const bare = folder.write("bare.json", {
        schema: "repair-calibration/setup@1",
        vehicle: (JSON.parse(fjellText) as { vehicle: object }).vehicle,
      });
      const argv = ["setup", bare, "--procedures", pack, "--format", "json", ...more];
      const { status, out } = await runCli(argv);
      expect(status).toBe(0);
      const { targets } = JSON.parse(out) as Result;
      return new Set(targets.flatMap(({ requirements }) => requirements));
    };
    const camera = "forward-camera/calibration";
    const radar = "front-radar/calibration";
    expect([...(await requirementsWith())]).toEqual(expect.arrayContaining([camera, radar]));
    // A bumper cover that comes off in front of the radar says nothing of the camera behind the windshield.
    expect([...(await requirementsWith("--job", job))]).toEqual([radar]);
  });

  it("is joined to the job card with plan --setup", async () => {
    const card = ["plan", job, "--procedures", pack, "--format", "html"];
    const without = await runCli(card);
    const withIt = await runCli([...card, "--setup", fjell]);
    for (const { status, out, err } of [without, withIt]) {
      expect({ status, err }).toEqual({ status: 0, err: "" });
      expect(out).toMatch(/^<!doctype html>/i);
    }
    // The column of the bay is known from the set-up alone.
    expect(without.out).not.toContain("Column beside the lift");
    expect(withIt.out).toContain("Column beside the lift");
    const inches = await runCli([...card, "--setup", fjell, "--units", "in"]);
    expect(inches.status).toBe(0);
    expect(inches.out).not.toBe(withIt.out);
  });

  it("does not write over what it is made from, whatever the way there", async () => {
    const own = folder.write("own.json", SETUP);
    const link = join(folder.path, "link.json");
    symlinkSync(own, link);
    for (const out of [own, link]) {
      expect(await runCli(["setup", own, "--out", out])).toMatchObject({ status: 2, out: "" });
    }
    expect((await runCli(["setup", own, "--job", job, "--out", job])).status).toBe(2);
    expect((await runCli(["plan", job, "--format", "html", "--setup", own, "--out", own])).status).toBe(2);
    expect(readFileSync(own, "utf8")).toBe(JSON.stringify(SETUP));
  });
});

describe("a command line about set-ups that cannot be followed", () => {
  it.each([
    [
      ["setup", setup, "--format", "json", "--units", "in"],
      "lengths in JSON are always in millimetres; expected --units in with another format",
    ],
    [
      ["plan", job, "--format", "mermaid", "--units", "in"],
      "a chart shows no lengths; expected --units in with another format",
    ],
    [
      ["setup", setup, "--drawing", "side-view"],
      "text is no single drawing; expected --format svg beside --drawing",
    ],
    [
      ["setup", setup, "--format", "html", "--set-up", "S1"],
      "html holds every set-up; expected --format svg beside --set-up",
    ],
    [
      ["setup", setup, "--rules", "house/"],
      "rules make the plan of a work order, and none is given; expected --job JOB.json beside --rules",
    ],
    [
      ["plan", job, "--setup", setup],
      "a plan as text has no place for a set-up; expected --format html, or the command setup with --job",
    ],
    [["setup", "-", "--job", "-"], "standard input can be read only once, but - stands for two documents"],
    [
      ["setup", inBay, "--format", "svg", "--set-up", "S9"],
      'no set-up is called "S9"; expected S1; did you mean "S1"?',
    ],
    [
      ["setup", setup, "--format", "svg", "--set-up", "S1"],
      'no set-up is called "S1"; expected no id, since no bay parts the set-ups',
    ],
    [
      ["drive", "log.csv", "--sensor", "forward-camera"],
      "a drive is judged by what a procedure asks for, and none is given; expected --procedures FILE",
    ],
  ])("%j", async (argv, message) => {
    const { status, out, err } = await runCli(argv);
    expect(err.split("\n")[0]).toBe(message);
    expect({ status, out }).toEqual({ status: 2, out: "" });
  });

  it.each([
    [["setup", setup, "--format", "jsn"], 'Expected one of text, json, html, svg; did you mean "json"?'],
    [["setup", setup, "--format", "pdf"], "Expected one of text, json, html, svg\n"],
    [["setup", setup, "--units", "cm"], "Expected one of mm, in"],
    [["setup", setup, "--drawing", "sideview"], 'did you mean "side-view"?'],
    [["setup", setup, "--procedure", pack], "(Did you mean --procedures?)"],
    [["setup", setup, fjell], "too many arguments"],
    [["setup", "--procedures", pack, setup], "missing required argument 'SETUP.json'"],
    [["setup", "--procedures", pack, setup], "takes every word up to the next option: write it last"],
  ])("%j is told by what there is", async (argv, message) => {
    const { status, out, err } = await runCli(argv);
    expect(err).toContain(message);
    expect({ status, out }).toEqual({ status: 2, out: "" });
  });
});

/** The demonstrated set-up with one piece of its text exchanged. */
function fjellWith(piece: string, other: string): string {
  expect(fjellText).toContain(piece);
  return fjellText.replace(piece, other);
}
const lineOf = (piece: string): number => fjellText.slice(0, fjellText.indexOf(piece)).split("\n").length;

describe("a set-up that is refused", () => {
  it.each([
    [
      "a decimal comma",
      () => fjellWith('"u": 0.02', '"u": 0,02'),
      '"u": 0.02',
      "a comma stands inside a number; JSON writes a decimal point, as in 0.5",
    ],
    [
      "typographic quotation marks",
      () => fjellWith('"rearToe"', "\u201erearToe\u201c"),
      '"rearToe"',
      "this quotation mark is typographic; JSON has the straight one alone",
    ],
    [
      "a target misspelt",
      () => fjellWith('"reflector-n4"', '"reflektor-n4"'),
      '"reflector-n4"',
      '/targets/0/id: the procedures of front-radar have no target "reflektor-n4"; expected reflector-n4; did you mean "reflector-n4"?',
    ],
    [
      "a target of another sensor",
      () => fjellWith('"reflector-n4"', '"board-n1"'),
      '"reflector-n4"',
      '/targets/0/id: the procedures of front-radar have no target "board-n1", which is one of forward-camera; expected reflector-n4',
    ],
    [
      "a position that the sensor does not have",
      () => fjellWith('"id": "reflector-n4"', '"position": "left", "id": "reflector-n4"'),
      '"id": "reflector-n4"',
      '/targets/0/position: the front radar has no position "left"; expected no position, since there is only one',
    ],
    [
      "an angle without its unit",
      () => fjellWith('"left": "0°12′"', '"left": "0.12"'),
      '"left": "0°12′"',
      '/rearToe/left: "0.12" has no unit; expected',
    ],
    [
      "a wheelbase in metres",
      () => fjellWith('"wheelbase": 2790', '"wheelbase": 2.79'),
      '"wheelbase"',
      "expected 500 to 8000 mm",
    ],
    [
      "a rim in inches",
      () => fjellWith('"left": "0°12′"', '"rimDiameter": 17, "left": "0°12′"'),
      '"left": "0°12′"',
      "/rearToe/rimDiameter: 17 is too small; expected at least 200",
    ],
    [
      "a bay in metres",
      () => fjellWith('"length": 12000', '"length": 12'),
      '"length": 12000',
      "/bay/length: 12 is too small; expected at least 1000",
    ],
  ])("for %s, at its line", async (_, makeText, piece, message) => {
    const file = folder.write("refused.json", makeText());
    const { status, out, err } = await runCli(["setup", file, "--procedures", pack]);
    expect({ status, out }).toEqual({ status: 2, out: "" });
    const [first = ""] = err.split("\n");
    expect(first).toContain(message);
    expect(first.startsWith(`${file}:${lineOf(piece)}: `)).toBe(true);
  });

  it.each([
    [
      "a table",
      "time (s),speed (km/h)\n0,1\n",
      "1: column 1: the text does not begin as JSON does, with a brace",
    ],
    ["a list", "[]", " this is a list; expected an object"],
    ["nothing", "", " the document is empty; expected a document in JSON"],
    [
      "another document",
      readFileSync(job, "utf8"),
      '/schema: "repair-calibration/job@1" is no schema that this release reads here; expected "repair-calibration/setup@1"',
    ],
  ])("where it is %s", async (_, text, message) => {
    const file = folder.write("other.json", text);
    const { status, out, err } = await runCli(["setup", file]);
    expect({ status, out }).toEqual({ status: 2, out: "" });
    expect(err.split("\n")[0]).toContain(message);
    // What was expected is said once.
    expect(err.trimEnd().split("\n").length).toBeLessThanOrEqual(2);
  });

  it("names whichever of several files is wrong, with the status of its kind", async () => {
    const asPack = await runCli(["setup", setup, "--procedures", fjell]);
    expect(asPack).toMatchObject({ status: 3, out: "" });
    expect(asPack.err).toContain(`${fjell}:3: /schema: `);
    const asJob = await runCli(["setup", setup, "--job", fjell]);
    expect(asJob).toMatchObject({ status: 2, out: "" });
    expect(asJob.err).toContain(`${fjell}:3: /schema: `);
  });

  it("is read behind a byte-order mark and with the line ends of another system", async () => {
    const file = join(folder.path, "marked.json");
    writeFileSync(file, `\ufeff${fjellText.replaceAll("\n", "\r\n")}`);
    const argv = (path: string): readonly string[] => [
      "setup",
      path,
      "--procedures",
      pack,
      "--format",
      "json",
    ];
    expect(await runCli(argv(file))).toEqual(await runCli(argv(fjell)));
  });
});

describe("a log that is refused", () => {
  const drive = (text: string | Uint8Array) =>
    runCli(["drive", "-", "--procedures", pack, "--sensor", "forward-camera"], { input: text });

  it.each([
    [
      "a document of another kind",
      fjellText,
      'standard input:3: /schema: "repair-calibration/setup@1" is no schema that this release reads here; expected "repair-calibration/drive@1"',
    ],
    [
      "a spreadsheet itself",
      new Uint8Array([0x50, 0x4b, 3, 4, 20, 0, 6, 0, 8, 0]),
      "standard input: the file is no text, perhaps the spreadsheet itself; expected its table, saved as CSV in UTF-8",
    ],
    [
      "a table below the name of its separator",
      "sep=;\r\ntime (s);speed (km/h)\r\n0;80\r\n",
      "standard input:1: the first line only names a separator, which is found without it; expected the names of the columns in the first line",
    ],
    [
      "nothing",
      "\n",
      "standard input: the log holds nothing but white space; expected lines of cells below the names of the columns, or a document in JSON",
    ],
  ])("where it is %s", async (_, text, message) => {
    const { status, out, err } = await drive(text);
    expect({ status, out }).toEqual({ status: 2, out: "" });
    expect(err.trimEnd().split("\n")).toEqual([message]);
  });
});
