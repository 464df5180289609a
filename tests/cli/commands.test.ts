import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { STRATA } from "../../src/index.js";
import { HOUSE_RULE, PACK_HEAD, PACK_SOURCES, PROCEDURES } from "./pack-files.js";
import { WINDSHIELD_JOB, makeFolder, runCli } from "./run-cli.js";

const folder = makeFolder();
const job = folder.write("job.json", WINDSHIELD_JOB);
const procedures = folder.write("procedures.json", PROCEDURES);

/** Writes a pack of one rule, with something changed. */
function writePack(name: string, rule: object = {}, head: object = {}): string {
  folder.write(`${name}/pack.json`, { ...PACK_HEAD, ...head });
  folder.write(`${name}/sources.json`, PACK_SOURCES);
  folder.write(`${name}/disturbances/${HOUSE_RULE.id}.json`, { ...HOUSE_RULE, ...rule });
  return join(folder.path, name);
}

describe("usage", () => {
  it.each([
    [["pln", job], "unknown command 'pln'\n(Did you mean plan?)"],
    [["plan"], "missing required argument 'JOB.json'"],
    [["plan", job, "--formt", "json"], "unknown option '--formt'\n(Did you mean --format?)"],
    [["plan", job, "--format", "jsn"], 'Expected one of text, json, html, mermaid; did you mean "json"?'],
    [["plan", job, "--format", "svg"], "Expected one of text, json, html, mermaid\n"],
    [["plan", job, "another.json"], "too many arguments"],
    [["explain", job], "missing required argument 'SENSOR'"],
    [["rules", "shw"], "unknown command 'shw'\n(Did you mean show?)"],
    [["rules", "list", "--stratum", "hold"], 'did you mean "holds"?'],
    [[], "Usage: repair-calibration"],
    [["rules"], "Usage: repair-calibration rules"],
  ])("%j is refused", async (argv, message) => {
    const { status, out, err } = await runCli(argv);
    expect(err).toContain(message);
    expect({ status, out }).toEqual({ status: 2, out: "" });
  });

  it.each([
    [["--help"]],
    [["help", "plan"]],
    [["plan", "--help"]],
    [["explain", "--help"]],
    [["setup", "--help"]],
    [["help", "setup"]],
    [["drive", "--help"]],
    [["rules", "--help"]],
    [["rules", "list", "--help"]],
    [["rules", "show", "--help"]],
    [["rules", "check", "--help"]],
    [["rules", "diff", "--help"]],
  ])("%j shows examples and exit statuses on 80 columns", async (argv) => {
    const { status, out, err } = await runCli(argv);
    expect({ status, err }).toEqual({ status: 0, err: "" });
    expect(out).toContain("Examples:\n  $ repair-calibration ");
    expect(out).toMatch(/Exit status:\n {2}0 {2}done\n/);
    expect(out.split("\n").filter((line) => line.length > 80)).toEqual([]);
  });

  it("shows the version of the package", async () => {
    const manifest = JSON.parse(
      readFileSync(fileURLToPath(new URL("../../package.json", import.meta.url)), "utf8"),
    ) as { version: string };
    expect(await runCli(["--version"])).toEqual({ status: 0, out: `${manifest.version}\n`, err: "" });
  });
});

describe("plan", () => {
  it("writes the plan as text", async () => {
    const { status, out, err } = await runCli(["plan", job]);
    expect({ status, err }).toEqual({ status: 0, err: "" });
    expect(out).toContain("Order      RO-7001\nVehicle    Norrvik Fjell, model year 2024, VIN not stated\n");
    expect(out).toContain("\n  Forward camera: calibration\n    Method     The maker's procedure decides");
    expect(out).toContain('Line L1, remove and replace windshield ("Rpl W/S")');
  });

  it("takes the method and its limits from the maker's procedure", async () => {
    const { status, out } = await runCli(["plan", job, "--procedures", procedures]);
    expect(status).toBe(0);
    expect(out).toContain("    Method     Static (Norrvik workshop manual 7, invented, 7.2)\n");
    expect(out).toContain("      Limit: at most 3 mm/m (section 7.2)\n");
    expect(out).toContain("INVENTED for demonstration");
  });

  it("draws the plan", async () => {
    const { status, out } = await runCli(["plan", job, "--format", "mermaid"]);
    expect(status).toBe(0);
    expect(out).toMatch(/^flowchart LR\n {2}due1\(\["forward camera, calibration \(required\)"\]\)\n/);
  });

  it("writes the same JSON on standard output and into a file", async () => {
    const file = join(folder.path, "plan.json");
    const printed = await runCli(["plan", job, "--format", "json"]);
    const written = await runCli(["plan", job, "--format", "json", "--out", file]);
    expect(written).toEqual({ status: 0, out: "", err: "" });
    expect(readFileSync(file, "utf8")).toBe(printed.out);
  });

  it("is confirmed by the second way of deciding", async () => {
    const { status, err } = await runCli(["plan", job, "--cross-check"]);
    expect({ status, err }).toEqual({ status: 0, err: "" });
  });

  it("lays a pack of one's own over the bundled rules", async () => {
    const rules = writePack("house");
    const { status, out } = await runCli(["plan", job, "--rules", rules, "--format", "json"]);
    expect(status).toBe(0);
    const packs = (JSON.parse(out) as { rulebook: { packs: { id: string }[] } }).rulebook.packs;
    expect(packs.map(({ id }) => id)).toEqual(["common-practice", "house-rules"]);
  });

  it("lets a pack with the bundled one's id take its place", async () => {
    const rules = writePack("instead", {}, { id: "common-practice", version: "9.0.0" });
    const { status, out } = await runCli(["plan", job, "--rules", rules, "--format", "json"]);
    expect(status).toBe(0);
    const plan = JSON.parse(out) as { rulebook: { packs: object[] }; requirements: object[] };
    expect(plan.rulebook.packs).toMatchObject([{ id: "common-practice", version: "9.0.0" }]);
    // Its one rule says nothing of a windshield.
    expect(plan.requirements).toEqual([]);
  });
});

describe("colour", () => {
  it("is used on a screen", async () => {
    const { out } = await runCli(["plan", job], { isScreen: true, columns: 120 });
    expect(out.startsWith("\u001b[1mCalibration plan\u001b[22m\n")).toBe(true);
  });

  it.each([
    ["where NO_COLOR is set", { isScreen: true, columns: 120, env: { NO_COLOR: "1" } }],
    ["in a pipe", { isScreen: false }],
  ])("is not used %s", async (_, around) => {
    const { out } = await runCli(["plan", job], around);
    expect(out).not.toContain("\u001b");
  });

  it("never gets into a file", async () => {
    const file = join(folder.path, "plain.txt");
    await runCli(["plan", job, "--out", file], { isScreen: true });
    expect(readFileSync(file, "utf8")).not.toContain("\u001b");
  });

  it.each([
    ["40", 40],
    ["200", 80],
    ["none", 80],
    ["-5", 80],
  ])("goes by COLUMNS=%s where there is no screen", async (columns, width) => {
    const { out } = await runCli(["plan", job], { env: { COLUMNS: columns } });
    const longest = Math.max(...out.split("\n").map((line) => line.length));
    expect(longest).toBeLessThanOrEqual(width);
    expect(longest).toBeGreaterThan(width - 5);
  });

  it("leaves a narrow screen its width", async () => {
    const { out } = await runCli(["plan", job], { isScreen: true, columns: 50, env: { NO_COLOR: "1" } });
    expect(out.split("\n").filter((line) => line.length > 50)).toEqual([]);
  });
});

describe("explain", () => {
  it("tells the reasons of a sensor that is due", async () => {
    const { status, out } = await runCli(["explain", job, "forward-camera"]);
    expect(status).toBe(0);
    expect(out).toMatch(/^FORWARD CAMERA \(forward-camera\): \d+ requirements?$/m);
    expect(out).toContain("[windshield-replaced-renews-optical-path]");
    expect(out).toContain("yes The part is the windshield. (component: windshield)");
  });

  it("tells what would change that a sensor is not due", async () => {
    const { status, out } = await runCli(["explain", job, "front-radar"]);
    expect(status).toBe(0);
    expect(out).toContain("FRONT RADAR (front-radar): nothing is indicated\n");
    expect(out).toContain("What would change the answer:\n");
  });

  it("gives the same as data", async () => {
    const { status, out } = await runCli(["explain", job, "forward-camera", "--format", "json"]);
    expect(status).toBe(0);
    expect(JSON.parse(out)).toMatchObject({
      reference: "RO-7001",
      sensor: "forward-camera",
      places: [{ indicated: true }],
    });
  });

  it("names the nearest sensor for one that there is not", async () => {
    const { status, out, err } = await runCli(["explain", job, "front-rader"]);
    expect({ status, out }).toEqual({ status: 2, out: "" });
    expect(err.split("\n")[0]).toBe('there is no sensor "front-rader"; did you mean "front-radar"?');
  });
});

describe("rules list", () => {
  it("groups the rules by stratum", async () => {
    const { status, out } = await runCli(["rules", "list"]);
    expect(status).toBe(0);
    expect(out).toMatch(
      /^DISTURBANCES \(\d+\)\n(.*\n)* {2}windshield-replaced-renews-optical-path\n {4}A new windshield renews the optical path of what looks through it \[common\n {4}practice\]\n/m,
    );
    expect(out.split("\n").filter((line) => line.length > 80)).toEqual([]);
  });

  it("gives one stratum as data", async () => {
    const { status, out } = await runCli(["rules", "list", "--stratum", "holds", "--format", "json"]);
    expect(status).toBe(0);
    const list = JSON.parse(out) as { id: string; stratum: string }[];
    expect(new Set(list.map(({ stratum }) => stratum))).toEqual(new Set(["holds"]));
    expect(list.map(({ id }) => id)).toEqual(list.map(({ id }) => id).sort());
  });

  it("knows every stratum", async () => {
    for (const stratum of STRATA) {
      expect((await runCli(["rules", "list", "--stratum", stratum])).status).toBe(0);
    }
  });
});

describe("rules show", () => {
  it("shows a bundled rule with the examples that the bundle leaves out", async () => {
    const { status, out } = await runCli(["rules", "show", "windshield-replaced-renews-optical-path"]);
    expect(status).toBe(0);
    expect(out).toContain("    - The part is the windshield. (component is windshield)\n");
    expect(out).toContain("Common practice, no source.\n  It is the judgement of the authors of the rule.\n");
    expect(out).toContain("A forward camera behind a windshield that was replaced.");
    expect(out).toContain("    As 1, but looksThrough is not known\n");
  });

  it("shows a rule of a pack of one's own", async () => {
    const rules = writePack("shown");
    const { status, out } = await runCli(["rules", "show", HOUSE_RULE.id, "--rules", rules]);
    expect(status).toBe(0);
    expect(out).toContain(
      "Disturbances, pack house-rules, asked of: cause-and-sensor\nSettled, since 0.1.0\n",
    );
    expect(out).toContain("    - The part is painted. (action is one of refinish, blend)\n");
  });

  it("names the nearest rule for one that there is not", async () => {
    const { status, err } = await runCli(["rules", "show", "windshield-replaced-renew-optical-path"]);
    expect(status).toBe(2);
    expect(err.split("\n")[0]).toBe(
      'there is no rule "windshield-replaced-renew-optical-path"; expected an id that rules list shows; did you mean "windshield-replaced-renews-optical-path"?',
    );
  });
});

describe("rules check", () => {
  it("counts the rules of a sound pack", async () => {
    const { status, out } = await runCli(["rules", "check", writePack("sound")]);
    expect(status).toBe(0);
    expect(out).toMatch(
      /^house-rules 0\.2\.0: nothing to object to\nsha256:[0-9a-f]{64}\n {5}1 {2}disturbances\n {5}1 {2}in all\n$/,
    );
  });

  // A fact name misspelt, an example against the rule, no examples, a source that is not there.
  it.each([
    [
      { conditions: { name: "It is so at last.", fact: "componnet", operator: "equal", value: "hood" } },
      "/conditions/fact",
      /did you mean "component"\?/,
    ],
    [{ conditions: HOUSE_RULE.conditions.all[0] }, "/examples/staysSilent/1", /^rule-example-broken: /m],
    [
      { examples: undefined },
      "/examples/fires",
      /: the rule has no example under "fires"; expected at least one$/m,
    ],
    [
      { source: { ...HOUSE_RULE.source, ref: "hose" } },
      "/source/ref",
      /: sources\.json of the pack has no source "hose"; did you mean "house"\?$/m,
    ],
  ])("refuses a pack with %j", async (rule, pointer, message) => {
    const pack = writePack(`broken${pointer.replaceAll("/", "-")}`, rule);
    const { status, out, err } = await runCli(["rules", "check", pack]);
    expect({ status, out }).toEqual({ status: 3, out: "" });
    expect(err).toContain(`${join(pack, "disturbances", HOUSE_RULE.id)}.json: ${pointer}: `);
    expect(err).toMatch(message);
  });

  it("refuses a rule file that is not JSON, with its line", async () => {
    const pack = writePack("no-json");
    const broken = folder.write("no-json/disturbances/broken.json", '{\n  "id": broken\n}');
    const { status, err } = await runCli(["rules", "check", pack]);
    expect(status).toBe(3);
    expect(err.split("\n")[0]).toBe(
      `${broken}:2: column 9: only true, false and null stand without quotation marks`,
    );
  });

  it.each([
    ["a folder that is not there", "nowhere", "there is no such folder"],
    ["a file", "job.json", "this is a file, and a rule pack is a folder"],
    ["a folder without a head", "house/disturbances", "the folder has no pack.json"],
  ])("refuses %s", async (_, name, message) => {
    writePack("house");
    const pack = join(folder.path, name);
    const { status, err } = await runCli(["rules", "check", pack]);
    expect(status).toBe(3);
    expect(err.split("\n")[0]).toBe(`${pack}: ${message}; expected a folder with a pack.json`);
  });

  it("refuses the same pack everywhere", async () => {
    const pack = writePack("refused", { concludes: { disturbance: "powr-lost" } });
    for (const argv of [
      ["plan", job, "--rules", pack],
      ["explain", job, "front-radar", "--rules", pack],
      ["rules", "list", "--rules", pack],
      ["rules", "diff", "bundled", pack],
    ]) {
      const { status, out, err } = await runCli(argv);
      expect({ status, out }).toEqual({ status: 3, out: "" });
      expect(err).toContain('"powr-lost"');
    }
  });
});

describe("procedure packs", () => {
  it.each([
    [
      "a misspelt key",
      { ...PROCEDURES, procedurs: [] },
      '1: /procedurs: the key "procedurs" has no meaning here; did you mean "procedures"?',
    ],
    [
      "a method for a task that has none",
      { ...PROCEDURES, procedures: [{ ...PROCEDURES.procedures[0], task: "function-check" }] },
      '1: /procedures/0/method: only a calibration has a method, but this is the task "function-check"; expected "none"',
    ],
  ])("are refused with %s", async (name, pack, message) => {
    const file = folder.write(`${name.replaceAll(" ", "-")}.json`, pack);
    const { status, out, err } = await runCli(["plan", job, "--procedures", file]);
    expect({ status, out }).toEqual({ status: 3, out: "" });
    expect(err.split("\n")[0]).toBe(`${file}:${/^\d/.test(message) ? "" : " "}${message}`);
  });

  it("are refused where the file is not there", async () => {
    const { status, err } = await runCli(["plan", job, "--procedures", "nowhere.json"]);
    expect(status).toBe(3);
    expect(err.split("\n")[0]).toBe("nowhere.json: there is no such file");
  });
});

describe("rules diff", () => {
  it("finds no difference between a pack and itself", async () => {
    const pack = writePack("same");
    const { status, out } = await runCli(["rules", "diff", pack, pack]);
    expect(status).toBe(0);
    expect(out).toBe("house-rules 0.2.0 -> house-rules 0.2.0\nNo rule differs.\n");
  });

  it("says in words what changed in a rule", async () => {
    const before = writePack("before");
    const after = writePack(
      "after",
      { because: "Overspray settles on the lens.", concludes: { disturbance: "cover-refinished" } },
      { version: "0.3.0" },
    );
    const { status, out } = await runCli(["rules", "diff", before, after]);
    expect(status).toBe(0);
    expect(out).toContain("house-rules 0.2.0 -> house-rules 0.3.0\nChanged (1)\n");
    expect(out).toContain(
      '    - Mechanism: was "Overspray settles on a lens that was masked in a hurry.", is "Overspray settles on the lens.".\n',
    );
    expect(out).toMatch(
      / {4}- Conclusion: was "View obstructed: .*", is "Cover in front of the sensor painted: /,
    );
  });

  it("says which plans change, requirement by requirement", async () => {
    const instead = writePack("emptied", {}, { id: "common-practice", version: "9.0.0" });
    const { status, out } = await runCli(["rules", "diff", "bundled", instead, "--jobs", job]);
    expect(status).toBe(0);
    expect(out).toContain("Plans that change: 1 of 1\n");
    expect(out).toContain(`  RO-7001 (${job})\n`);
    expect(out).toContain("    - Forward camera: calibration is gone; it was required.\n");
  });

  it("gives the same as data", async () => {
    const pack = writePack("data");
    const { out } = await runCli(["rules", "diff", pack, "bundled", "--format", "json", "--jobs", job]);
    const result = JSON.parse(out) as { added: string[]; removed: string[]; jobs: { says: string[] }[] };
    expect(result.removed).toEqual([HOUSE_RULE.id]);
    expect(result.added).toContain("windshield-replaced-renews-optical-path");
    expect(result.jobs).toMatchObject([{ reference: "RO-7001" }]);
  });
});
