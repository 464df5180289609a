import { describe, expect, it } from "vitest";
import { checkPack, loadProcedures } from "../../src/index.js";
import {
  COVER_OFF_BEFORE_RADAR,
  coverOffJob,
  issuesOfRefusal,
  packWith,
  planWith,
  procedureWith,
  ruleWith,
} from "./build.js";

const waiver = (parts: Readonly<Record<string, unknown>> = {}) =>
  ruleWith("test-waiver", COVER_OFF_BEFORE_RADAR, {
    stratum: "waivers",
    concludes: { waives: ["cover-removed-asks-view-inspection"] },
    ...parts,
  });

const exception = (id: string, standing: string) =>
  ruleWith(id, COVER_OFF_BEFORE_RADAR, {
    stratum: "requirements",
    concludes: { task: "own", standing },
    exceptionTo: ["cover-removed-asks-view-inspection"],
  });

const refusalOf = (parts: Readonly<Record<string, unknown>>) =>
  issuesOfRefusal(() => loadProcedures(packWith(parts)));

const refusalOfProcedure = (parts: Readonly<Record<string, unknown>>) =>
  refusalOf({ procedures: [procedureWith(parts)] });

describe("a pack that is refused says where, what and what to do", () => {
  it("loads when nothing is wrong with it", () => {
    const { pack, rules } = loadProcedures(
      packWith({ procedures: [procedureWith()], rules: [waiver(), exception("test-exception", "presumed")] }),
    );
    expect(pack.procedures.map(({ id }) => id)).toEqual(["radar"]);
    expect(rules?.rules.map(({ id }) => id)).toEqual(["test-exception", "test-waiver"]);
  });

  it("names both of two procedures for one sensor and task", () => {
    const [issue, ...others] = refusalOf({
      procedures: [procedureWith({ id: "radar-a" }), procedureWith({ id: "radar-b", method: "dynamic" })],
    });
    expect(issue).toEqual({
      code: "procedure-conflict",
      pointer: "/procedures/1",
      message: '"radar-a" and "radar-b" are both for front-radar/calibration',
    });
    expect(others).toEqual([]);
  });

  it("takes one procedure for a position beside one for all positions", () => {
    const { pack } = loadProcedures(
      packWith({
        procedures: [
          procedureWith({ id: "any", sensor: "rear-corner-radar" }),
          procedureWith({ id: "left", sensor: "rear-corner-radar", position: "left" }),
        ],
      }),
    );
    expect(pack.procedures).toHaveLength(2);
  });

  it("refuses an id that is taken", () => {
    expect(
      refusalOf({
        procedures: [procedureWith(), procedureWith({ sensor: "forward-camera" })],
      }),
    ).toEqual([{ code: "duplicate-id", pointer: "/procedures/1/id", message: 'the id "radar" is taken' }]);
  });

  it("refuses a position that the sensor does not have", () => {
    expect(refusalOfProcedure({ sensor: "rear-corner-radar", position: "front" })).toEqual([
      {
        code: "invalid-position",
        pointer: "/procedures/0/position",
        message: 'a rear-corner-radar has no position "front"',
      },
    ]);
  });

  it("refuses a calibration without a method, and a method where there is none to choose", () => {
    expect(refusalOfProcedure({ method: "unknown" })[0]?.message).toBe(
      'a calibration procedure states its method, but this says "unknown"',
    );
    expect(
      refusalOfProcedure({ sensor: "steering-angle-sensor", task: "zero-point-reset", method: "static" })[0],
    ).toEqual({
      code: "invalid-value",
      pointer: "/procedures/0/method",
      message: 'only a calibration has a method, but this is the task "zero-point-reset"',
      expected: '"none"',
    });
  });

  it("offers the nearest word for a misspelt sensor, precondition or key", () => {
    expect(refusalOfProcedure({ sensor: "front-radr" })[0]).toMatchObject({
      code: "unknown-id",
      pointer: "/procedures/0/sensor",
      nearest: "front-radar",
    });
    expect(refusalOfProcedure({ conditions: [{ precondition: "flor-level" }] })[0]).toMatchObject({
      code: "unknown-id",
      pointer: "/procedures/0/conditions/0/precondition",
      nearest: "floor-level",
    });
    expect(refusalOfProcedure({ clearAria: {} })[0]).toMatchObject({
      code: "unknown-key",
      pointer: "/procedures/0/clearAria",
      nearest: "clearArea",
    });
  });

  it("refuses keys that the language reserves, before any schema sees them", () => {
    const hostile: unknown = JSON.parse('{"schema":"repair-calibration/procedures@1","__proto__":{}}');
    expect(issuesOfRefusal(() => loadProcedures(hostile))[0]).toMatchObject({ code: "forbidden-key" });
  });

  it("names its file in every issue", () => {
    const issues = issuesOfRefusal(() =>
      loadProcedures(packWith({ procedures: [procedureWith({ method: "none" })] }), "packs/fjell.json"),
    );
    expect(issues.map(({ file }) => file)).toEqual(["packs/fjell.json"]);
  });

  it("refuses model years that run backwards", () => {
    expect(
      refusalOf({ appliesTo: { make: "Norrvik", models: ["Fjell"], modelYears: { from: 2026, to: 2023 } } }),
    ).toEqual([
      {
        code: "out-of-range",
        pointer: "/appliesTo/modelYears",
        message: "the first model year 2026 lies after the last one 2023",
        expected: "from at most as large as to",
      },
    ]);
  });
});

describe("a limit can be read or is refused", () => {
  const limitIssues = (precondition: string, limit: unknown) =>
    refusalOfProcedure({ conditions: [{ precondition, limit }] });

  it.each([
    ["film-thickness-in-range", "mil", "um or µm or μm"],
    ["floor-level", "mm", "mm/m or deg"],
    ["thrust-angle-in-range", "mm", "deg"],
    ["ride-height-in-range", "in", "mm"],
    ["battery-supported", "mV", "V"],
    ["tyre-pressure-set", "bar", "kPa"],
  ])("%s is not measured in %s", (precondition, unit, expected) => {
    const [issue] = limitIssues(precondition, { high: 1, unit });
    expect(issue).toMatchObject({
      code: "invalid-value",
      pointer: "/procedures/0/conditions/0/limit/unit",
      message: `"${precondition}" is not measured in "${unit}"`,
      expected,
    });
  });

  it("has to be a number with a unit in words", () => {
    expect(limitIssues("floor-level", { high: "3", unit: "mm/m" })).toEqual([
      {
        code: "wrong-type",
        pointer: "/procedures/0/conditions/0/limit/high",
        message: 'this is "3"',
        expected: "a number",
      },
    ]);
    expect(limitIssues("floor-level", { high: 3, unit: 3 })[0]).toMatchObject({
      code: "wrong-type",
      pointer: "/procedures/0/conditions/0/limit/unit",
    });
    expect(limitIssues("floor-level", { high: 3 })[0]).toMatchObject({ code: "missing-key" });
  });

  it("has an end, and its low end is not above its high one", () => {
    expect(limitIssues("battery-supported", { unit: "V" })[0]).toMatchObject({
      code: "missing-key",
      message: "the limit has neither a low nor a high end",
    });
    expect(limitIssues("battery-supported", { low: 14.5, high: 13.2, unit: "V" })[0]).toMatchObject({
      code: "out-of-range",
      message: "the low end 14.5 lies above the high end 13.2",
    });
  });

  it("is stated once for a precondition, so that none is overlooked", () => {
    expect(
      refusalOfProcedure({
        conditions: [
          { precondition: "floor-level", limit: { high: 5, unit: "mm/m" } },
          { precondition: "floor-level", limit: { high: 3, unit: "mm/m" } },
        ],
      })[0],
    ).toMatchObject({
      code: "duplicate-id",
      pointer: "/procedures/0/conditions/1/precondition",
      message: 'the procedure states "floor-level" already at /conditions/0',
    });
  });

  it("belongs to a drive where it is a drive window", () => {
    const speed = { low: 60, high: 100, unit: "km/h" };
    expect(refusalOfProcedure({ driveWindow: { speed } })[0]?.message).toBe(
      "a static calibration has no drive window",
    );
    expect(
      refusalOfProcedure({ method: "dynamic", driveWindow: { speed: { ...speed, low: 120 } } })[0],
    ).toMatchObject({ code: "out-of-range", pointer: "/procedures/0/driveWindow/speed" });
    expect(
      refusalOfProcedure({ method: "dynamic", driveWindow: { speed: { ...speed, unit: "m/s" } } })[0],
    ).toMatchObject({ code: "unknown-id", pointer: "/procedures/0/driveWindow/speed/unit" });
  });
});

describe("an order that cannot be followed is refused", () => {
  const order = (...pairs: readonly (readonly [string, string])[]) =>
    refusalOf({ order: pairs.map(([first, then]) => ({ first, then, section: "1.4" })) });

  it("names the members of a circle", () => {
    expect(
      order(
        ["forward-camera/calibration", "front-radar/calibration"],
        ["front-radar/calibration", "lidar/calibration"],
        ["lidar/calibration", "forward-camera/calibration"],
      ),
    ).toEqual([
      {
        code: "order-cycle",
        pointer: "/order",
        message:
          "the order runs in a circle: forward-camera/calibration → front-radar/calibration → lidar/calibration → forward-camera/calibration",
      },
    ]);
  });

  it("sees a circle between a sensor and one of its own positions", () => {
    expect(order(["rear-corner-radar/calibration", "rear-corner-radar:left/calibration"])[0]).toMatchObject({
      code: "order-cycle",
      message:
        "the order runs in a circle: rear-corner-radar:left/calibration → rear-corner-radar:left/calibration",
    });
  });

  it("knows its sensors, tasks and positions", () => {
    expect(order(["forward-kamera/calibration", "front-radar/calibration"])[0]).toMatchObject({
      code: "unknown-id",
      pointer: "/order/0/first",
      message: '"forward-kamera" is no sensor',
      nearest: "forward-camera",
    });
    expect(order(["forward-camera/calibration", "front-radar/calibraton"])[0]).toMatchObject({
      pointer: "/order/0/then",
      message: '"calibraton" is no task',
      nearest: "calibration",
    });
    expect(order(["surround-camera:top/calibration", "front-radar/calibration"])[0]).toMatchObject({
      code: "invalid-position",
      message: 'a surround-camera has no position "top"',
    });
  });
});

describe("a rule that takes something away cites where its maker does", () => {
  it.each([
    ["a source that is only practice", { ref: "practice", section: "9.1", supports: "states-it" }],
    ["no section", { ref: "literature", section: null, supports: "states-it" }],
  ])("refuses a waiver with %s", (_what, source) => {
    expect(refusalOf({ rules: [waiver({ source })] })).toEqual([
      {
        code: "waiver-without-citation",
        pointer: "/rules/0/source",
        message:
          'the rule "test-waiver" takes an exception to general rules without citing where the maker does',
        expected: 'a source of the kind "maker-procedure", and a section',
      },
    ]);
  });

  it("refuses an exception without a section likewise", () => {
    const rule = {
      ...exception("test-exception", "presumed"),
      source: { ref: "literature", section: null, supports: "states-it" },
    };
    expect(refusalOf({ rules: [rule] })[0]).toMatchObject({ code: "waiver-without-citation" });
  });

  it("lets a rule that only adds stand on practice", () => {
    const adds = ruleWith("test-adds", COVER_OFF_BEFORE_RADAR, {
      stratum: "requirements",
      concludes: { task: "own", standing: "required" },
      source: { ref: "practice", section: null, supports: "our-judgement" },
    });
    expect(loadProcedures(packWith({ rules: [adds] })).rules?.rules).toHaveLength(1);
  });

  it("asks it of waivers in a pack of rules too", () => {
    const { sources } = packWith();
    const [issue] = issuesOfRefusal(() =>
      checkPack({
        head: {
          schema: "repair-calibration/pack@1",
          id: "house-rules",
          version: "1.0.0",
          title: "Rules of one shop",
          scope: "One shop and its vehicles.",
          doesNotCover: ["Everybody else's vehicles."],
        },
        sources,
        rules: [
          {
            file: "waivers/test-waiver.json",
            content: waiver({ source: { ref: "practice", section: "9.1", supports: "our-judgement" } }),
          },
        ],
      }),
    );
    expect(issue).toMatchObject({
      code: "waiver-without-citation",
      file: "waivers/test-waiver.json",
      pointer: "/source",
      message: 'the waiver "test-waiver" does not cite where its document permits it',
    });
  });

  it("refuses a waiver that names no rule", () => {
    expect(refusalOf({ rules: [waiver({ concludes: { waives: [] } })] })[0]).toMatchObject({
      pointer: "/rules/0/concludes/waives",
      expected: "at least 1 entry",
    });
  });

  it("names the nearest rule where the one waived is unknown", () => {
    const pack = packWith({
      rules: [waiver({ concludes: { waives: ["cover-removed-ask-view-inspection"] } })],
    });
    const [issue] = issuesOfRefusal(() => planWith(coverOffJob(), [pack]));
    expect(issue).toMatchObject({
      code: "rule-unknown-reference",
      message:
        'rule "test-waiver" of pack "norrvik-test" names a rule "cover-removed-ask-view-inspection" that no loaded pack holds',
      nearest: "cover-removed-asks-view-inspection",
    });
  });

  it("points into the pack where a rule's own example fails", () => {
    const broken = waiver({
      examples: {
        fires: [{ says: "It fires.", facts: { disturbance: "cover-removed", sensor: "front-radar" } }],
        staysSilent: [{ says: "A radar all the same.", like: 0, but: { sensor: "front-radar" } }],
        cannotTell: [{ says: "The sensor is not known.", like: 0, unknown: "sensor" }],
      },
    });
    expect(refusalOf({ rules: [broken] })[0]).toMatchObject({
      code: "rule-example-broken",
      pointer: "/rules/0/examples/staysSilent/0",
    });
  });
});

describe("packs that contradict one another are refused when they meet", () => {
  it("names both of two procedures in different packs", () => {
    const one = packWith({ id: "norrvik-one", procedures: [procedureWith({ id: "radar-one" })] });
    const two = packWith({ id: "norrvik-two", procedures: [procedureWith({ id: "radar-two" })] });
    const [issue] = issuesOfRefusal(() => planWith(coverOffJob(), [one, two]));
    expect(issue).toMatchObject({
      code: "procedure-conflict",
      message:
        '"radar-one" of norrvik-one and "radar-two" of norrvik-two are both for front-radar/calibration',
    });
  });

  it("names both of two exceptions that do not agree", () => {
    const pack = packWith({
      rules: [exception("test-says-presumed", "presumed"), exception("test-says-required", "required")],
    });
    const [issue] = issuesOfRefusal(() => planWith(coverOffJob(), [pack]));
    expect(issue).toMatchObject({
      code: "rule-conflict",
      message:
        'the rules "test-says-presumed" and "test-says-required" both take an exception to "cover-removed-asks-view-inspection" here and do not agree',
    });
  });

  it("names a waiver and an exception that do not agree", () => {
    const pack = packWith({ rules: [waiver(), exception("test-says-required", "required")] });
    const [issue] = issuesOfRefusal(() => planWith(coverOffJob(), [pack]));
    expect(issue?.code).toBe("rule-conflict");
    expect(issue?.message).toContain('"test-waiver" and "test-says-required"');
  });

  it("refuses two packs with one id", () => {
    const pack = packWith({ rules: [waiver()] });
    const other = packWith({ version: "1.0.1", rules: [waiver({ id: "test-other" })] });
    expect(issuesOfRefusal(() => planWith(coverOffJob(), [pack, other]))[0]).toMatchObject({
      code: "pack-conflict",
      message: 'two packs carry the id "norrvik-test"',
    });
  });
});
