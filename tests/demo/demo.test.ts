import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Ajv2020, type AnySchema } from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import { describe, expect, it } from "vitest";
import {
  loadProcedures,
  loadRulebook,
  planCalibrations,
  readVin,
  renderText,
  type Job,
  type Plan,
  type SetupResult,
} from "../../src/index.js";
import { findDifferences } from "../scenarios/compare-plan.js";
import type { ScenarioExpectation } from "../scenarios/scenario.js";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));
const readJson = (path: string): unknown => JSON.parse(readFileSync(`${ROOT}${path}`, "utf8"));
const jsonFiles = (folder: string) =>
  readdirSync(`${ROOT}${folder}`)
    .filter((file) => file.endsWith(".json"))
    .sort();

const rulebook = loadRulebook();
const procedures = jsonFiles("docs/demo/procedures").map((file) =>
  loadProcedures(readJson(`docs/demo/procedures/${file}`), file),
);
const jobOf = (name: string): Job => readJson(`docs/demo/jobs/${name}.json`) as Job;
const planOf = (job: Job): Plan => planCalibrations(job, { rulebook, procedures });
const planGenerally = (job: Job): Plan => planCalibrations(job, { rulebook });
const namesOfJobs = jsonFiles("docs/demo/jobs").map((file) => file.replace(/\.json$/, ""));

/** The job with other facts about one entry of its equipment. */
function withEquipment(job: Job, index: number, facts: Readonly<Record<string, unknown>>): Job {
  const equipment = (job.vehicle.equipment ?? []).map((entry, at) =>
    at === index ? { ...entry, ...facts } : entry,
  );
  return { ...job, vehicle: { ...job.vehicle, equipment } };
}

/** What the trade holds to be due after each order, written before a plan was looked at. */
const EXPECTED: Readonly<Record<string, ScenarioExpectation>> = {
  // The camera looks through new glass and was unclipped; the rain sensor is coupled to that glass; the picture of
  // the head-up display is a mirror image on it. The mobile unit touched nothing else.
  glass: {
    requirements: {
      "forward-camera/calibration": {
        standing: "required",
        couldRiseTo: null,
        disturbances: ["optical-path-replaced"],
        operations: ["L1"],
        noHolds: true,
        preconditions: [
          "adhesive-cured",
          "battery-supported",
          "clear-area",
          "correct-part",
          "drive-route-suitable",
          "floor-level",
          "licensed-driver",
          "targets-verified",
          "thrust-angle-in-range",
        ],
      },
      "rain-light-sensor/function-check": { standing: "required", operations: ["L1"] },
      "rain-light-sensor/initialisation": { standing: "presumed" },
      "head-up-display/image-adjustment": { standing: "required", preconditions: ["correct-part"] },
    },
    only: true,
    notDue: ["front-radar", "driver-monitoring-camera", "steering-angle-sensor", "rear-camera"],
    order: [
      ["adhesive-cure", "forward-camera/calibration"],
      ["adhesive-cure", "head-up-display/image-adjustment"],
      ["rain-light-sensor/initialisation", "rain-light-sensor/function-check"],
    ],
    contradictions: 0,
    claimed: ["L6", "L7"],
    unread: [],
  },
  // The cover and the left lamp are new, the fender was mended away from everything. A hit in front makes each front
  // sensor worth a look. The radar is calibrated if it rides on the cover, and looked at otherwise: nobody has said.
  "front-collision": {
    requirements: {
      "adaptive-headlamp:left/aim": {
        standing: "required",
        disturbances: ["mount-replaced"],
        operations: ["L4"],
        // The code was read before the repair, on the lamp that was replaced.
        noHolds: true,
      },
      "adaptive-headlamp:left/initialisation": { standing: "required", operations: ["L4"] },
      "adaptive-headlamp:right/aim": {
        standing: "inspect-first",
        couldRiseTo: null,
        disturbances: ["impact-load"],
      },
      "parking-sensors:front/function-check": {
        standing: "required",
        disturbances: ["mount-replaced"],
        operations: ["L1"],
      },
      "front-radar/calibration": {
        standing: "inspect-first",
        couldRiseTo: "required",
        disturbances: ["impact-load", "mount-replaced"],
        noHolds: true,
      },
      "front-corner-radar:left/calibration": { standing: "undetermined", couldRiseTo: "required" },
      "front-corner-radar:right/calibration": { standing: "undetermined", couldRiseTo: "required" },
    },
    only: true,
    notDue: ["forward-camera", "rear-corner-radar", "parking-sensors:rear", "rain-light-sensor"],
    questionsAbout: [
      "/vehicle/equipment/1/mount",
      "/vehicle/equipment/1/looksThrough",
      "/vehicle/equipment/2/fitted",
    ],
    order: [
      ["film-thickness-reading", "fitting"],
      ["adaptive-headlamp:left/initialisation", "adaptive-headlamp:left/aim"],
      ["tyres-and-pressures", "adaptive-headlamp:left/aim"],
    ],
    contradictions: 0,
    claimed: ["L9"],
    unread: [],
  },
  // Cross-traffic alert proves both rear corner radars. The blow and the cut quarter make both worth a look, and the
  // left or both are due if they ride on what was renewed or taken off. Of the camera at the back only that one of
  // two is there. The battery was off, and lock to lock answers that.
  "rear-quarter": {
    requirements: {
      "rear-corner-radar:left/calibration": {
        standing: "inspect-first",
        couldRiseTo: "required",
        disturbances: ["impact-load", "structure-reworked"],
        operations: ["1"],
      },
      "rear-corner-radar:right/calibration": { standing: "inspect-first", couldRiseTo: "required" },
      "steering-angle-sensor/zero-point-reset": {
        standing: "inspect-first",
        couldRiseTo: null,
        disturbances: ["power-lost"],
        operations: ["10"],
      },
      "parking-sensors:rear/function-check": { standing: "undetermined", couldRiseTo: "required" },
      "rear-camera/function-check": {
        standing: "undetermined",
        couldRiseTo: "required",
        operations: ["2", "5"],
      },
      "surround-camera:rear/calibration": { standing: "undetermined", couldRiseTo: "required" },
    },
    notDue: ["forward-camera", "front-radar", "tyre-pressure-sensors", "occupant-classification-sensor"],
    questionsAbout: ["/vehicle/equipment", "/operations/5/atMounting", "/findings/faultCodes"],
    order: [
      ["structural-measurement-before", "structural-repair"],
      ["structural-repair", "structural-measurement-after"],
      ["structural-measurement-after", "rear-corner-radar:left/calibration"],
    ],
    contradictions: 0,
    claimed: ["12"],
    unread: ["11"],
  },
  // Everything that looks ahead or behind stands higher and at another pitch, on tyres that the maker does not list:
  // due, and not to be attempted. The straight-ahead was set anew. The pressure sensors came along to new wheels,
  // which this maker's receiver sorts out by itself.
  "lift-kit": {
    requirements: {
      "forward-camera/calibration": {
        standing: "required",
        disturbances: ["attitude-changed", "rolling-circumference-changed"],
        operations: ["L1"],
        holds: ["ride-height-modified", "tyre-size-not-approved"],
        preconditions: ["ride-height-in-range", "tyres-correct"],
      },
      "front-radar/calibration": {
        standing: "required",
        operations: ["L1"],
        holds: ["ride-height-modified", "tyre-size-not-approved"],
        preconditions: ["thrust-angle-in-range", "trailer-and-accessories-off"],
      },
      "rear-corner-radar:left/calibration": { standing: "required", holds: ["tyre-size-not-approved"] },
      "rear-corner-radar:right/calibration": { standing: "required", holds: ["tyre-size-not-approved"] },
      "rear-camera/function-check": { standing: "required", operations: ["L1"], noHolds: true },
      "steering-angle-sensor/zero-point-reset": { standing: "required", operations: ["L1", "L7"] },
      "parking-sensors:front/function-check": { standing: "inspect-first", couldRiseTo: null },
      "parking-sensors:rear/function-check": { standing: "inspect-first", couldRiseTo: null },
    },
    only: true,
    notDue: [
      "rain-light-sensor",
      "occupant-classification-sensor",
      "inertial-sensor",
      "tyre-pressure-sensors",
    ],
    order: [
      ["wheel-alignment", "steering-angle-sensor/zero-point-reset"],
      ["steering-angle-sensor/zero-point-reset", "front-radar/calibration"],
      // As this maker orders them: radar, camera, corner radars.
      ["front-radar/calibration", "forward-camera/calibration"],
      ["forward-camera/calibration", "rear-corner-radar:left/calibration"],
    ],
    contradictions: 0,
    claimed: [],
    unread: [],
  },
};

describe("the invented work orders", () => {
  it("are all expected something of", () => {
    expect(Object.keys(EXPECTED).sort()).toEqual(namesOfJobs);
  });

  it.each(namesOfJobs)("%s brings what the trade holds to be due", (name) => {
    expect(findDifferences(planOf(jobOf(name)), EXPECTED[name]!)).toEqual([]);
  });

  it.each(namesOfJobs)("%s prints on a page of 80 columns", (name) => {
    const job = jobOf(name);
    const text = renderText(planOf(job), { width: 80, operations: job.operations });
    expect(text.split("\n").filter((line) => [...line].length > 80)).toEqual([]);
  });

  it.each(namesOfJobs)("%s has a VIN with its right check digit, or none", (name) => {
    const { vin, market = "unknown", vehicleClass = "unknown" } = jobOf(name).vehicle;
    if (vin === undefined) return;
    const reading = readVin(vin, { market, vehicleClass });
    expect(vin[8]).toBe(reading.expectedDigit);
    // No country assigns a maker's code that begins with a zero.
    expect(vin[0]).toBe("0");
    expect(reading.issues).toEqual([]);
  });

  it("leave at least one vehicle without a VIN", () => {
    expect(namesOfJobs.some((name) => jobOf(name).vehicle.vin === undefined)).toBe(true);
  });

  it("fit the published schemas", () => {
    const ajv = new Ajv2020({
      strict: true,
      allowUnionTypes: true,
      strictRequired: false,
      strictTuples: false,
    });
    addFormats.default(ajv);
    const check = (schema: string, folder: string): void => {
      const validate = ajv.compile(readJson(`schemas/${schema}.schema.json`) as AnySchema);
      for (const file of jsonFiles(folder)) {
        const isValid = validate(readJson(`${folder}/${file}`));
        expect([isValid, validate.errors], file).toEqual([true, null]);
      }
    };
    check("job", "docs/demo/jobs");
    check("procedures", "docs/demo/procedures");
  });
});

describe("what the maker's procedures change", () => {
  it("glass: the method, and an adjustment where practice only looks", () => {
    const job = jobOf("glass");
    const general = planGenerally(job);
    const plan = planOf(job);
    const find = (from: Plan, id: string) => from.requirements.find((each) => each.id === id);
    expect(plan.outcome).toBe("complete");
    expect(find(general, "forward-camera/calibration")?.method.value).toBe("unknown");
    expect(find(plan, "forward-camera/calibration")?.method.value).toBe("static-and-dynamic");
    expect(find(general, "head-up-display/image-adjustment")?.standing).toBe("inspect-first");
    expect(find(plan, "head-up-display/image-adjustment")?.standing).toBe("required");
    expect(plan.waived).toEqual([]);
  });

  it("lift-kit: the relearn is waived with its citation", () => {
    const job = jobOf("lift-kit");
    const relearn = planGenerally(job).requirements.find(({ task }) => task === "relearn");
    expect(relearn?.standing).toBe("presumed");
    expect(planOf(job).waived).toMatchObject([
      {
        sensor: "tyre-pressure-sensors",
        task: "relearn",
        wouldHaveBeen: "presumed",
        by: {
          source: {
            cite: "Norrvik workshop literature NW-2026-014 (invented)",
            section: "T-6.1, paragraph 3",
          },
        },
      },
    ]);
  });

  it("lift-kit: the corner radars come with a ride-height sheet", () => {
    const evidence = planOf(jobOf("lift-kit")).requirements.find(
      ({ id }) => id === "rear-corner-radar:left/calibration",
    )?.evidence;
    expect(evidence).toContain("ride-height");
  });

  it("rear-quarter: nothing, since no pack is for its make", () => {
    const plan = planOf(jobOf("rear-quarter"));
    expect(plan.procedures.map(({ applies }) => applies)).toEqual(["no", "no", "no"]);
    expect(plan.requirements).toEqual(planGenerally(jobOf("rear-quarter")).requirements);
  });
});

describe("answers to the questions", () => {
  const front = () => withEquipment(jobOf("front-collision"), 2, { fitted: "no" });
  const radarOf = (plan: Plan) => plan.requirements.find(({ id }) => id === "front-radar/calibration");

  it("front-collision: a radar on the reinforcement has a new cover before it, and nothing stays open", () => {
    const plan = planOf(
      withEquipment(front(), 1, { mount: "front-bumper-reinforcement", looksThrough: "front-bumper-cover" }),
    );
    expect(radarOf(plan)).toMatchObject({ standing: "presumed", couldRiseTo: null });
    expect(plan.outcome).toBe("complete");
    expect(plan.requirements.some(({ sensor }) => sensor === "front-corner-radar")).toBe(false);
  });

  it("front-collision: a radar on the cover rides on a new part", () => {
    const plan = planOf(withEquipment(front(), 1, { mount: "front-bumper-cover", looksThrough: "nothing" }));
    expect(radarOf(plan)).toMatchObject({ standing: "required", couldRiseTo: null });
    expect(plan.outcome).toBe("complete");
  });

  it("front-collision: had the cover only been off and on, this maker would waive the look at the radar", () => {
    const job = withEquipment(front(), 1, {
      mount: "front-bumper-reinforcement",
      looksThrough: "front-bumper-cover",
    });
    const light: Job = {
      ...job,
      operations: [{ id: "L1", action: "remove-install", component: "front-bumper-cover" }],
      findings: { ...job.findings, impactZones: [] },
    };
    expect(radarOf(planGenerally(light))?.standing).toBe("inspect-first");
    expect(radarOf(planOf(light))).toBeUndefined();
    expect(planOf(light).waived.map(({ sensor, by }) => [sensor, by.source.section])).toEqual([
      ["front-radar", "F-3.9, paragraph 1"],
    ]);
  });

  it("rear-quarter: radars on the quarter panels are due on the side that was cut", () => {
    const job = jobOf("rear-quarter");
    const plan = planOf({
      ...job,
      vehicle: {
        ...job.vehicle,
        equipment: [
          {
            sensor: "rear-corner-radar",
            fitted: "yes",
            mount: "quarter-panel",
            looksThrough: "rear-bumper-cover",
          },
        ],
      },
    });
    const standings = plan.requirements
      .filter(({ sensor }) => sensor === "rear-corner-radar")
      .map(({ position, standing, couldRiseTo }) => [position, standing, couldRiseTo]);
    expect(standings).toEqual([
      ["left", "required", null],
      ["right", "inspect-first", null],
    ]);
  });

  it("rear-quarter: one of two cameras is known to be there before anybody says which", () => {
    const { atLeastOneOf } = planOf(jobOf("rear-quarter"));
    expect(atLeastOneOf.map(({ sensors, because }) => [sensors, because])).toContainEqual([
      ["rear-camera", "surround-camera:rear"],
      ["backup-camera"],
    ]);
  });
});

describe("the invented procedure packs", () => {
  const calibrations = procedures.flatMap(({ pack }) =>
    pack.procedures
      .filter(({ task }) => task === "calibration")
      .map((procedure) => [procedure.id, procedure] as const),
  );

  it("say that they are invented, in the flag and in every citation", () => {
    for (const { pack } of procedures) {
      expect(pack.invented).toBe(true);
      expect(pack.appliesTo.make).toBe("Norrvik");
      expect(pack.cite).toMatch(/\(invented\)$/);
      for (const source of Object.values(pack.sources ?? {})) expect(source.cite).toMatch(/\(invented\)$/);
    }
  });

  it.each(calibrations)("%s says by which road, or before which targets", (_id, procedure) => {
    const isDriven = procedure.method !== "static";
    const isParked = procedure.method !== "dynamic";
    expect(procedure.driveWindow !== undefined).toBe(isDriven);
    // The camera that watches the driver is shown a card on the seat, not a target in the bay.
    const needsTarget = isParked && procedure.sensor !== "driver-monitoring-camera";
    expect((procedure.targets ?? []).length > 0).toBe(needsTarget);
    expect(procedure.clearArea !== undefined).toBe(needsTarget);
    const conditions = (procedure.conditions ?? []).map(({ precondition }) => precondition);
    if (isDriven)
      expect(conditions).toEqual(expect.arrayContaining(["licensed-driver", "drive-route-suitable"]));
    if (isParked) expect(conditions).toContain("battery-supported");
  });

  it("cover every sensor that the demonstrated vehicles are stated to have", () => {
    for (const name of namesOfJobs) {
      const { make, model, equipment = [] } = jobOf(name).vehicle;
      const own = procedures.find(
        ({ pack }) => pack.appliesTo.make === make && pack.appliesTo.models.includes(model ?? ""),
      );
      if (own === undefined) continue;
      const covered = own.pack.procedures.map(({ sensor }) => sensor);
      const fitted = equipment.filter((entry) => entry.fitted === "yes").map(({ sensor }) => sensor);
      expect(fitted.filter((sensor) => !covered.includes(sensor))).toEqual([]);
    }
  });
});

describe("the script that prints them", () => {
  const run = (...words: readonly string[]) =>
    spawnSync(process.execPath, ["docs/demo/demo.mjs", ...words], { cwd: ROOT, encoding: "utf8" });
  const isBuilt = existsSync(`${ROOT}dist/index.js`);

  it("explains itself, on a page of 80 columns", () => {
    const { status, stdout, stderr } = run("--help");
    expect([status, stderr]).toEqual([0, ""]);
    for (const name of namesOfJobs) expect(stdout).toContain(`  ${name} `);
    expect(stdout.split("\n").filter((line) => line.length > 80)).toEqual([]);
  });

  it.each([
    [["glas"], 'demo: there is no scene "glas"; did you mean "glass"?\n'],
    [["front"], 'demo: there is no scene "front"; did you mean "front-collision"?\n'],
    [["glass", "lift-kti"], 'demo: there is no scene "lift-kti"; did you mean "lift-kit"?\n'],
    [["--jsn"], 'demo: there is no option "--jsn"; did you mean "--json"?\n'],
    [
      ["motorcycle"],
      'demo: there is no scene "motorcycle"; known are glass, front-collision, rear-quarter, lift-kit, bay\n',
    ],
  ])("refuses %j with nothing on stdout", (words, message) => {
    expect(run(...words)).toMatchObject({ status: 2, stdout: "", stderr: message });
  });

  it.runIf(isBuilt)("prints the one scene that is asked for", () => {
    const { status, stdout, stderr } = run("glass");
    expect([status, stderr]).toEqual([0, ""]);
    expect(stdout).toContain("Work order: docs/demo/jobs/glass.json");
    expect(stdout).toContain("Norrvik Skare");
    expect(stdout).not.toContain("lift-kit");
    expect(stdout.split("\n").filter((line) => [...line].length > 80)).toEqual([]);
  });

  it.runIf(isBuilt)("sets up the bay, and writes its card to print where asked to", () => {
    const folder = mkdtempSync(join(tmpdir(), "sheets-"));
    const { status, stdout, stderr } = run("bay", "--sheets", folder);
    expect(status).toBe(0);
    expect(stderr).toBe(`written: ${join(folder, "bay.html")}\n`);
    expect(stdout).toContain("Set-up: docs/demo/setups/fjell-front-collision.json");
    expect(stdout).toContain("the\n           bay fits.");
    expect(stdout.split("\n").filter((line) => [...line].length > 80)).toEqual([]);
    const card = readFileSync(join(folder, "bay.html"), "utf8");
    expect(card).toContain("Corner reflector N4");
    expect(card).toContain("<svg");
    rmSync(folder, { recursive: true });
  });

  it("wants a folder for the cards", () => {
    expect(run("bay", "--sheets")).toMatchObject({
      status: 2,
      stdout: "",
      stderr: "demo: --sheets needs a folder to write to\n",
    });
  });

  it.runIf(isBuilt)("prints all scenes as JSON, one document a line, by general rules alone if asked", () => {
    const { status, stdout } = run("--json", "--general");
    const documents = stdout
      .trim()
      .split("\n")
      .map((line) => JSON.parse(line) as Plan | SetupResult);
    expect(status).toBe(0);
    expect(documents.map(({ schema, reference }) => `${schema} ${String(reference)}`)).toEqual([
      "repair-calibration/plan@1 WO-41873",
      "repair-calibration/plan@1 EST-2207",
      "repair-calibration/plan@1 JC 5561/B",
      "repair-calibration/plan@1 RO-9034",
      "repair-calibration/setup-result@1 EST-2207",
    ]);
    expect(documents.flatMap(({ procedures: used }) => used as readonly unknown[])).toEqual([]);
  });
});
