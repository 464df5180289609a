import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import {
  auditPlan,
  type Audit,
  type FindingKind,
  type Submitted,
  type SubmittedLine,
  type SubmittedRecord,
} from "../../src/audit/index.js";
import { loadProcedures, loadRulebook, planCalibrations, type Job } from "../../src/index.js";
import { submittedFromPlan } from "./submitted-from-plan.js";

const pack = loadProcedures(
  JSON.parse(readFileSync(new URL("../../docs/demo/procedures/norrvik-fjell.json", import.meta.url), "utf8")),
);
const options = { rulebook: loadRulebook(), procedures: [pack] };
const general = { rulebook: options.rulebook };

/** Check digit by 49 CFR 565.15(c), worked by hand: the weighed sum is 314 = 28 × 11 + 6. No vehicle of any maker. */
const VIN = "1ZZSK2AF6RA000007";
/** The same with 8 in the last place: 316 = 28 × 11 + 8. */
const OTHER_VIN = "1ZZSK2AF8RA000008";

/** Windshield and bumper cover replaced: the camera is required, the radar presumed, the parking sensors are checked. */
const JOB: Job = {
  schema: "repair-calibration/job@1",
  reference: "RO-1",
  vehicle: {
    make: "Norrvik",
    model: "Fjell",
    modelYear: 2024,
    vin: VIN,
    market: "us",
    vehicleClass: "passenger-car",
    equipmentComplete: true,
    equipment: [
      { sensor: "forward-camera", fitted: "yes", mount: "windshield", looksThrough: "windshield" },
      {
        sensor: "front-radar",
        fitted: "yes",
        mount: "front-bumper-reinforcement",
        looksThrough: "front-bumper-cover",
      },
      { sensor: "parking-sensors", position: "front", fitted: "yes" },
      { sensor: "parking-sensors", position: "rear", fitted: "yes" },
      { sensor: "driver-monitoring-camera", fitted: "yes", mount: "instrument-panel" },
    ],
  },
  operations: [
    { id: "L1", action: "replace", component: "windshield" },
    { id: "L2", action: "replace", component: "front-bumper-cover" },
  ],
  findings: {
    impactZones: [],
    impactWheels: [],
    airbagsDeployed: false,
    structuralDamage: false,
    faultCodes: [],
    rideHeightChange: { front: 0, rear: 0 },
  },
};

const CAMERA = "forward-camera/calibration";
const RADAR = "front-radar/calibration";
const PARKING = "parking-sensors:front/function-check";

/** Everything on record: records at 6:00, camera, radar and parking sensors in the order of the plan. */
function complete(job: Job = JOB, document: Submitted["document"] = "work-record"): Submitted {
  const made = submittedFromPlan(planCalibrations(job, options));
  const times: Readonly<Record<string, readonly [string, string]>> = {
    [`S-${RADAR}`]: [at(9), at(10)],
    [`S-${CAMERA}`]: [at(11), at(13)],
    [`S-${PARKING}`]: [at(14), at(15)],
  };
  return {
    ...made,
    document,
    vin: VIN,
    released: at(20),
    lines: made.lines.map((line) => {
      const [started, finished] = times[line.id] ?? [at(9), at(9)];
      return { ...line, started, finished };
    }),
    records: (made.records ?? []).map((record) => ({
      ...record,
      ...(record.vin === undefined ? {} : { vin: VIN }),
      at: record.kind === "post-repair-scan" ? at(18) : isDrive(record) ? at(16) : at(6),
    })),
  };
}

function isDrive({ kind }: SubmittedRecord): boolean {
  return kind === "road-test" || kind === "drive-log";
}

function at(hour: number, day = 2): string {
  return `2026-03-0${day}T${String(hour).padStart(2, "0")}:00:00Z`;
}

interface Change {
  readonly lines?: (line: SubmittedLine) => readonly SubmittedLine[];
  readonly records?: (record: SubmittedRecord) => readonly SubmittedRecord[];
  readonly add?: readonly SubmittedRecord[];
}

function change(document: Submitted, { lines, records, add = [] }: Change): Submitted {
  return {
    ...document,
    lines: lines === undefined ? document.lines : document.lines.flatMap(lines),
    records: [
      ...(records === undefined ? (document.records ?? []) : (document.records ?? []).flatMap(records)),
      ...add,
    ],
  };
}

/** Changes the one line that answers a requirement, or leaves it out. */
function changeLine(id: string, how: (line: SubmittedLine) => readonly SubmittedLine[]): Change {
  return { lines: (line) => (line.id === `S-${id}` ? how(line) : [line]) };
}

function withoutRecords(...kinds: readonly string[]): Change {
  return { records: (record) => (kinds.includes(record.kind) ? [] : [record]) };
}

function kindsOf({ findings }: Audit): readonly FindingKind[] {
  return findings.map(({ kind }) => kind);
}

function auditOf(document: Submitted, job: Job = JOB, with_ = options): Audit {
  return auditPlan(job, document, with_);
}

function kindsAfter(how: Change, document: Submitted = complete()): readonly FindingKind[] {
  return kindsOf(auditOf(change(document, how)));
}

describe("a document with everything on record", () => {
  it.each(["estimate", "work-record", "invoice"] as const)("leaves nothing to find: %s", (document) => {
    const audit = auditOf(complete(JOB, document));
    expect(audit.findings).toEqual([]);
    expect(audit.totals).toEqual({ high: 0, medium: 0, low: 0, missing: 0, unsupported: 0, undecided: 0 });
    expect(audit.pairs).toEqual([
      { requirement: CAMERA, lines: [`S-${CAMERA}`], standing: "required", state: "answered" },
      { requirement: PARKING, lines: [`S-${PARKING}`], standing: "required", state: "answered" },
      { requirement: RADAR, lines: [`S-${RADAR}`], standing: "presumed", state: "answered" },
    ]);
  });
});

describe("a requirement without a line", () => {
  it.each(["estimate", "invoice"] as const)("is missing from an %s", (document) => {
    const audit = auditOf(
      change(
        { ...complete(JOB, document), released: undefined },
        changeLine(RADAR, () => []),
      ),
    );
    expect(audit.findings).toMatchObject([
      {
        id: "F1",
        kind: "missing-requirement",
        severity: "high",
        sensor: "front-radar",
        line: null,
        requirement: RADAR,
      },
    ]);
    expect(audit.findings[0]?.because).toContain("L2");
    expect(audit.findings[0]?.because).toContain("cover-replaced-presumes-calibration-of-radars");
    expect(audit.totals).toMatchObject({ high: 1, missing: 1 });
    expect(audit.pairs.find(({ requirement }) => requirement === RADAR)).toMatchObject({
      lines: [],
      state: "not-answered",
    });
  });

  it("is answered by a line that names no position, for all positions", () => {
    const line = changeLine(PARKING, (each) => [{ ...each, position: null }]);
    expect(kindsAfter(line)).toEqual([]);
  });

  it("is not answered by another task of its sensor, which nothing supports either", () => {
    const line = changeLine(RADAR, (each) => [{ ...each, task: "initialisation" }]);
    expect(kindsAfter(line, complete(JOB, "estimate"))).toEqual(["missing-requirement", "unsupported-line"]);
  });
});

describe("a line that says not done", () => {
  const notDone = (waiver: SubmittedLine["waiver"]): Change =>
    changeLine(RADAR, ({ id, sensor, task }) => [{ id, sensor, task, result: "not-done", waiver }]);

  it("needs a citation", () => {
    expect(kindsAfter(notDone(null))).toEqual(["customer-notice-missing", "waiver-uncited"]);
    expect(kindsAfter(notDone({ cite: "  " }))).toEqual(["customer-notice-missing", "waiver-uncited"]);
    expect(kindsAfter(notDone(null), complete(JOB, "estimate"))).toEqual(["waiver-uncited"]);
  });

  it("is waived with one, and asks for no record", () => {
    const audit = auditOf(
      change(complete(), {
        ...notDone({ cite: "Norrvik workshop literature NW-2026-014 (invented)", section: "F-9" }),
        records: (record) => (record.sensor === "front-radar" ? [] : [record]),
      }),
    );
    expect(audit.findings).toEqual([]);
    expect(audit.pairs.find(({ requirement }) => requirement === RADAR)?.state).toBe("waived");
  });

  it("is understood from a waiver alone", () => {
    const waived = changeLine(RADAR, ({ id, sensor, task }) => [
      { id, sensor, task, waiver: { cite: "F-9" } },
    ]);
    expect(kindsAfter(waived)).toEqual([]);
  });
});

describe("what nothing supports", () => {
  const extra: SubmittedLine = {
    id: "S9",
    sensor: "driver-monitoring-camera",
    task: "calibration",
    result: "passed",
    performedBy: { firm: "Bay Nine" },
  };

  it("is said, with what would support it, and a claim of the order is no support", () => {
    const job: Job = {
      ...JOB,
      operations: [
        ...JOB.operations,
        { id: "L3", action: "calibrate", component: "sensor", sensor: "driver-monitoring-camera" },
      ],
    };
    const document = complete(job);
    const audit = auditOf({ ...document, lines: [...document.lines, extra] }, job);
    expect(kindsOf(audit)).toEqual(["unsupported-line"]);
    expect(audit.findings[0]).toMatchObject({ line: "S9", requirement: null, severity: "medium" });
    expect(audit.findings[0]?.because).toEqual(["L3", "S9"]);
    expect(audit.findings[0]?.resolvedBy).toMatch(/instrument panel/);
    expect(audit.pairs.at(-1)).toEqual({
      requirement: null,
      lines: ["S9"],
      standing: null,
      state: "unsupported",
    });
  });

  it("is not a line that says not done", () => {
    const document = complete();
    const lines = [...document.lines, { ...extra, result: "not-done" as const }];
    expect(kindsOf(auditOf({ ...document, lines }))).toEqual([]);
  });
});

describe("the method", () => {
  it("is held against the procedure's, where both are stated", () => {
    const driven = changeLine(RADAR, (each) => [{ ...each, method: "dynamic" }]);
    expect(kindsAfter(driven, complete(JOB, "estimate"))).toEqual(["method-mismatch"]);
    const unstated = changeLine(RADAR, (each) => [{ ...each, method: "unknown" }]);
    expect(kindsAfter(unstated)).toEqual([]);
  });

  it("is not held against a hint: without a procedure any suits", () => {
    const estimate = complete(JOB, "estimate");
    expect(
      kindsOf(
        auditOf(
          change(
            estimate,
            changeLine(RADAR, (each) => [{ ...each, method: "dynamic" }]),
          ),
          JOB,
          {
            ...general,
            procedures: [],
          },
        ),
      ),
    ).toEqual([]);
  });

  it("of a task in two parts may stand on two lines, but not on one of them alone", () => {
    const parked = (each: SubmittedLine): SubmittedLine => ({ ...each, method: "static", finished: at(12) });
    const both = changeLine(CAMERA, (each) => [
      parked(each),
      { ...each, id: "S2", method: "dynamic", started: at(12) },
    ]);
    expect(kindsAfter(both)).toEqual([]);
    expect(kindsAfter(changeLine(CAMERA, (each) => [parked(each)]))).toEqual(["method-mismatch"]);
    const turned = changeLine(CAMERA, (each) => [
      { ...each, method: "dynamic", started: at(11), finished: at(12) },
      { ...each, id: "S2", method: "static", started: at(12) },
    ]);
    expect(kindsAfter(turned)).toEqual(["done-out-of-order"]);
  });
});

describe("the order of work", () => {
  const later = (kind: string): Change => ({
    records: (record) => [record.kind === kind ? { ...record, at: at(17) } : record],
  });

  it.each(["wheel-alignment", "repairs-complete", "adhesive-cure"])("puts %s first", (kind) => {
    const { findings } = auditOf(change(complete(), later(kind)));
    expect(new Set(findings.map((each) => each.kind))).toEqual(new Set(["done-out-of-order"]));
    expect(findings.map(({ requirement }) => requirement)).toContain(CAMERA);
    expect(findings.map(({ requirement }) => requirement).includes(RADAR)).toBe(kind !== "adhesive-cure");
  });

  it("reads until when an adhesive cured", () => {
    const until = (time: string): Change => ({
      records: (record) => [
        record.kind === "adhesive-cure" ? { ...record, at: at(6), values: { until: time } } : record,
      ],
    });
    expect(kindsAfter(until(at(12)))).toEqual(["done-out-of-order"]);
    expect(kindsAfter(until(at(10)))).toEqual([]);
  });

  it("puts the radar before the camera, as the maker does, and asks nothing of lines without times", () => {
    const late = changeLine(RADAR, (each) => [{ ...each, started: at(13), finished: at(15) }]);
    const { findings } = auditOf(change(complete(), late));
    expect(findings).toMatchObject([{ kind: "done-out-of-order", requirement: CAMERA, line: `S-${CAMERA}` }]);
    expect(findings[0]?.because).toContain(RADAR);
    const timeless = changeLine(RADAR, ({ started: _, finished: __, ...each }) => [each]);
    expect(kindsAfter(timeless)).toEqual([]);
  });

  it("takes a repeat in the right order for the result that stands", () => {
    const twice = changeLine(CAMERA, (each) => [
      { ...each, id: "S1", started: at(7), finished: at(8), result: "failed" },
      each,
    ]);
    expect(kindsAfter(twice)).toEqual([]);
  });

  it("puts the post-repair scan after the last calibration and drive; the last scan counts", () => {
    const early = later("post-repair-scan");
    const soon: Change = {
      records: (record) => [record.kind === "post-repair-scan" ? { ...record, at: at(12) } : record],
    };
    expect(kindsAfter(early)).toEqual([]);
    expect(kindsAfter(soon)).toEqual(["scan-out-of-order"]);
    expect(kindsAfter({ ...soon, add: [{ kind: "post-repair-scan", at: at(19) }] })).toEqual([]);
  });

  it("makes a result stale by what is completed after it and disturbed the sensor", () => {
    const completed = (hour: number): Job => ({
      ...JOB,
      operations: JOB.operations.map((each) =>
        each.id === "L2" ? { ...each, completedAt: at(hour) } : each,
      ),
    });
    const { findings } = auditOf(complete(), completed(12));
    expect(findings.map(({ kind, requirement }) => [kind, requirement])).toEqual([["stale-result", RADAR]]);
    expect(findings[0]?.because).toContain("L2");
    expect(kindsOf(auditOf(complete(), completed(8)))).toEqual([]);
  });
});

describe("lines that meet", () => {
  it("are duplicates where they are the same task", () => {
    const twice = changeLine(RADAR, (each) => [each, { ...each, id: "S2" }]);
    const audit = auditOf(change(complete(JOB, "estimate"), twice));
    expect(audit.findings).toMatchObject([{ kind: "duplicate-line", severity: "low" }]);
    expect(audit.findings[0]?.because).toEqual(["S-front-radar/calibration", "S2"]);
  });

  it.each(["failed", "aborted"] as const)("are none where the first %s", (result) => {
    const again = changeLine(RADAR, (each) => [
      { ...each, id: "S2", started: at(7), finished: at(8), result },
      each,
    ]);
    expect(kindsAfter(again)).toEqual([]);
  });

  it("are none where the sensor was disturbed again between them", () => {
    const twice = changeLine(RADAR, (each) => [
      each,
      { ...each, id: "S2", started: at(10), finished: at(11) },
    ]);
    const job: Job = {
      ...JOB,
      operations: JOB.operations.map((each) =>
        each.id === "L2" ? { ...each, completedAt: "2026-03-02T10:30:00Z" } : each,
      ),
    };
    expect(kindsOf(auditOf(change(complete(), twice), job))).toEqual([]);
    expect(kindsAfter(twice)).toEqual(["duplicate-line"]);
  });

  it("overlap where two are parked at one time and name no shared set-up", () => {
    const parkedCamera = (setUp: string | undefined): Change => ({
      lines: (line) => [
        line.id === `S-${CAMERA}`
          ? { ...line, method: "static" as const, started: at(9), finished: at(11), setUp }
          : { ...line, ...(line.id === `S-${RADAR}` ? { setUp: "A" } : {}) },
      ],
    });
    expect(kindsAfter(parkedCamera(undefined))).toEqual(["method-mismatch", "overlapping-lines"]);
    expect(kindsAfter(parkedCamera("B"))).toEqual(["method-mismatch", "overlapping-lines"]);
    expect(kindsAfter(parkedCamera("A"))).toEqual(["method-mismatch"]);
  });
});

describe("records", () => {
  it.each([
    ["pre-repair-scan", "scan-missing", [null]],
    ["post-repair-scan", "scan-missing", [null]],
    ["pre-calibration-scan", "evidence-missing", [CAMERA, RADAR]],
    ["calibration-record", "evidence-missing", [CAMERA, RADAR]],
    ["function-check", "evidence-missing", [PARKING]],
    ["inspection", "evidence-missing", [CAMERA]],
    ["part-identification", "evidence-missing", [CAMERA, RADAR, PARKING]],
    ["road-test", "evidence-missing", [CAMERA, RADAR]],
    ["wheel-alignment", "precondition-unproven", [CAMERA, RADAR]],
    ["battery-support", "precondition-unproven", [CAMERA]],
    ["ride-height", "precondition-unproven", [CAMERA, RADAR]],
    ["tyre-pressure", "precondition-unproven", [CAMERA, RADAR]],
    ["film-thickness", "precondition-unproven", [RADAR]],
    ["floor-survey", "precondition-unproven", [CAMERA, RADAR]],
    ["repairs-complete", "precondition-unproven", [CAMERA, RADAR]],
    ["adhesive-cure", "precondition-unproven", [CAMERA]],
    ["setup-record", "setup-unproven", [CAMERA, RADAR]],
    ["drive-log", "drive-not-proven", [CAMERA]],
  ] as const)("of the kind %s are asked for", (kind, expected, requirements) => {
    const { findings } = auditOf(change(complete(), withoutRecords(kind)));
    expect(findings.map((each) => [each.kind, each.requirement])).toEqual(
      requirements.map((requirement) => [expected, requirement]),
    );
  });

  it("may stand on the line; those of the vehicle on any line", () => {
    const onLines: Change = {
      ...withoutRecords("calibration-record", "ride-height"),
      lines: (line) => [
        {
          ...line,
          evidence: [
            ...(line.task === "calibration" ? [{ kind: "calibration-record" as const, vin: VIN }] : []),
            ...(line.sensor === "front-radar" ? [{ kind: "ride-height" as const }] : []),
          ],
        },
      ],
    };
    expect(kindsAfter(onLines)).toEqual([]);
  });

  it("of one sensor prove nothing of another", () => {
    const moved: Change = {
      records: (record) => [
        record.kind === "calibration-record" && record.sensor === "front-radar"
          ? { ...record, sensor: "lidar" }
          : record,
      ],
    };
    expect(kindsAfter(moved)).toEqual(["evidence-missing"]);
  });

  it("of a drive are held against the minutes that the procedure asks for", () => {
    const minutes = (value: number): Change => ({
      records: (record) => [record.kind === "drive-log" ? { ...record, values: { minutes: value } } : record],
    });
    // The procedure of the Fjell's camera asks for 12 minutes.
    expect(kindsAfter(minutes(11.5))).toEqual(["drive-not-proven"]);
    expect(kindsAfter(minutes(12))).toEqual([]);
  });

  it("of a calibration name their vehicle", () => {
    const nameless: Change = { records: ({ vin: _, ...record }) => [record] };
    expect(kindsAfter(nameless)).toEqual(["result-missing", "result-missing"]);
  });

  it("of another vehicle are told apart from the job's, case and blanks aside", () => {
    const vin = (value: string): Change => ({
      records: (record) => [record.kind === "ride-height" ? { ...record, vin: value } : record],
    });
    expect(kindsAfter(vin(OTHER_VIN))).toEqual(["vehicle-mismatch"]);
    expect(kindsAfter(vin(` ${VIN.toLowerCase()} `))).toEqual([]);
    // One digit off: in this market the check digit shows it.
    expect(kindsAfter(vin("1ZZSK2AF6RA000008"))).toEqual(["vehicle-mismatch"]);
    expect(kindsOf(auditOf({ ...complete(), vin: OTHER_VIN }))).toEqual(["vehicle-mismatch"]);
  });

  it("that name several vehicles are said where neither job nor document names one", () => {
    const { vin: _, ...vehicle } = JOB.vehicle;
    const { vin: __, ...document } = complete();
    const vin: Change = {
      records: (record) => [record.kind === "ride-height" ? { ...record, vin: OTHER_VIN } : record],
    };
    const { findings } = auditOf(change(document, vin), { ...JOB, vehicle });
    expect(findings).toMatchObject([{ kind: "vehicle-mismatch", line: null }]);
  });

  it("that failed stay open until one that passed", () => {
    const failed: SubmittedRecord = { kind: "wheel-alignment", at: at(5), result: "failed" };
    expect(kindsAfter({ add: [failed] })).toEqual([]);
    expect(kindsAfter({ add: [{ ...failed, at: at(7) }] })).toEqual(["result-failed"]);
    expect(kindsAfter({ add: [{ kind: "pre-repair-scan", at: at(7), result: "failed" }] })).toEqual([]);
  });
});

describe("results", () => {
  it.each([undefined, "unknown"] as const)("are asked for: %s", (result) => {
    expect(kindsAfter(changeLine(RADAR, (each) => [{ ...each, result }]))).toEqual(["result-missing"]);
  });

  it("are also read from the calibration record on the line", () => {
    const onRecord = (result: "passed" | "failed"): Change =>
      changeLine(RADAR, ({ result: _, ...each }) => [
        { ...each, evidence: [{ kind: "calibration-record", vin: VIN, result }] },
      ]);
    expect(kindsAfter(onRecord("passed"))).toEqual([]);
    expect(kindsAfter(onRecord("failed"))).toEqual(["customer-notice-missing", "result-failed"]);
  });

  it.each(["failed", "aborted"] as const)("that are %s stay open unless repeated later", (result) => {
    const { released: _, ...document } = complete();
    const failed = (hour: number): Change =>
      changeLine(RADAR, (each) => [
        each,
        { ...each, id: "S2", started: at(hour), finished: at(hour), result },
      ]);
    expect(kindsAfter(failed(8), document)).toEqual([]);
    expect(kindsAfter(failed(17), document)).toEqual(["result-failed"]);
  });
});

describe("a notice to the customer", () => {
  const open = changeLine(RADAR, () => []);

  it("is due once the vehicle is released with something open, and before that", () => {
    const noticeAt = (hour: number): Change => ({
      ...open,
      add: [{ kind: "customer-notice", at: at(hour) }],
    });
    expect(kindsAfter(open)).toEqual(["customer-notice-missing", "missing-requirement"]);
    expect(kindsAfter(noticeAt(19))).toEqual(["missing-requirement"]);
    expect(kindsAfter(noticeAt(21))).toEqual(["customer-notice-missing", "missing-requirement"]);
  });

  it("is not asked for while the vehicle stands there", () => {
    const { released: _, ...document } = complete();
    expect(kindsAfter(open, document)).toEqual(["missing-requirement"]);
  });
});

describe("who and by what", () => {
  it("is asked of each line: a person or a firm", () => {
    const by = (performedBy: SubmittedLine["performedBy"]): Change =>
      changeLine(RADAR, (each) => [{ ...each, performedBy }]);
    expect(kindsAfter(by(undefined))).toEqual(["performer-missing"]);
    expect(kindsAfter(by({ equipment: "frame 3" }))).toEqual(["performer-missing"]);
    expect(kindsAfter(by({ firm: "Bay Nine" }))).toEqual([]);
  });

  it("is a current procedure", () => {
    const issued = (date: string): Change =>
      changeLine(RADAR, (each) => [{ ...each, procedure: { cite: "NW-2026-014", issued: date } }]);
    // The pack is of 2026-02-16.
    expect(kindsAfter(issued("2026-02-15"))).toEqual(["procedure-superseded"]);
    expect(kindsAfter(issued("2026-02-16"))).toEqual([]);
  });
});

describe("a hold", () => {
  const job: Job = {
    ...JOB,
    operations: JOB.operations.map((each) => (each.id === "L1" ? { ...each, adhesiveCured: "no" } : each)),
  };
  const cure = (record: Partial<SubmittedRecord>): Change => ({
    ...withoutRecords("adhesive-cure"),
    add: [{ kind: "adhesive-cure", ...record }],
  });

  it("is open on an estimate until a record shows it cleared", () => {
    const estimate = complete(job, "estimate");
    expect(kindsOf(auditOf(change(estimate, withoutRecords("adhesive-cure")), job))).toEqual(["hold-open"]);
    expect(kindsOf(auditOf(change(estimate, cure({ result: "passed" })), job))).toEqual([]);
  });

  it("was ignored where the work began before it was cleared, or nothing shows that it was", () => {
    const document = complete(job);
    const kinds = (how: Change): readonly FindingKind[] => kindsOf(auditOf(change(document, how), job));
    expect(kinds({})).toEqual([]);
    expect(kinds(withoutRecords("adhesive-cure"))).toEqual(["hold-ignored", "precondition-unproven"]);
    expect(kinds(cure({ at: at(12) }))).toEqual(["done-out-of-order", "hold-ignored"]);
    expect(kinds(cure({ at: at(8) }))).toEqual([]);
  });
});

describe("what is to be inspected first", () => {
  /** The alignment was set in front: the camera is looked at by a measurement of the wheels. */
  const job: Job = {
    ...JOB,
    operations: [{ id: "L1", action: "adjust", component: "wheel-alignment", adjusted: ["front-toe"] }],
  };
  const without = (document: Submitted): Submitted =>
    change({ ...document, lines: [], released: undefined }, withoutRecords("wheel-alignment", "inspection"));
  const inspected = (record: SubmittedRecord): Audit => {
    const document = without(complete(job));
    return auditOf({ ...document, records: [...(document.records ?? []), record] }, job, {
      ...general,
      procedures: [],
    });
  };

  it("is the camera alone in this job", () => {
    const { requirements } = planCalibrations(job, general);
    expect(requirements.map(({ id, standing }) => [id, standing])).toEqual([[CAMERA, "inspect-first"]]);
  });

  it("is missing without a record, or with one that says no result or names no sensor", () => {
    const record: SubmittedRecord = { kind: "wheel-alignment", at: at(9) };
    expect(kindsOf(inspected(record))).toEqual(["missing-inspection"]);
    expect(kindsOf(inspected({ kind: "inspection", result: "passed" }))).toEqual(["missing-inspection"]);
  });

  it("is closed by an inspection of the sensor that passed, or by the measurement asked for", () => {
    const named: SubmittedRecord = { kind: "inspection", sensor: "forward-camera", result: "passed" };
    expect(kindsOf(inspected(named))).toEqual([]);
    expect(kindsOf(inspected({ kind: "wheel-alignment", result: "passed" }))).toEqual([]);
  });

  it("makes the task due where it failed", () => {
    const failed = inspected({ kind: "inspection", sensor: "forward-camera", result: "failed" });
    expect(failed.findings).toMatchObject([{ kind: "missing-requirement", requirement: CAMERA }]);
  });

  it("is listed on an estimate, where no result can be known yet", () => {
    const listed = auditOf(
      change(without(complete(job, "estimate")), { add: [{ kind: "wheel-alignment" }] }),
      job,
    );
    expect(kindsOf(listed)).toEqual([]);
    expect(kindsOf(auditOf(without(complete(job, "estimate")), job))).toEqual(["missing-inspection"]);
  });
});
