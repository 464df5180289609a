import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { auditPlan, type Audit, type Submitted, type SubmittedLine } from "../../src/audit/index.js";
import { loadProcedures, loadRulebook, planCalibrations, type Job } from "../../src/index.js";
import { FIRST_PACK } from "../laws/invented-procedures.js";
import { VIN, hour, submittedFromPlan } from "./submitted-from-plan.js";

const options = { rulebook: loadRulebook(), procedures: [FIRST_PACK] };

function jobOf(
  equipment: NonNullable<Job["vehicle"]["equipment"]>,
  ...operations: readonly Omit<Job["operations"][number], "id">[]
): Job {
  return {
    schema: "repair-calibration/job@1",
    reference: "RO-2",
    vehicle: { make: "Norrvik", model: "Fjell", modelYear: 2024, equipmentComplete: true, equipment },
    operations: operations.map((each, index) => ({ ...each, id: `L${index + 1}` })),
    findings: {
      impactZones: [],
      impactWheels: [],
      airbagsDeployed: false,
      structuralDamage: false,
      faultCodes: [],
      rideHeightChange: { front: 0, rear: 0 },
    },
  };
}

function complete(job: Job): Submitted {
  return submittedFromPlan(planCalibrations(job, options));
}

const summarise = ({ findings }: Audit): readonly (readonly [string, string | null])[] =>
  findings.map(({ kind, requirement }) => [kind, requirement]);

describe("a requirement that is not decided", () => {
  const job = jobOf([{ sensor: "front-radar", fitted: "yes", mount: "unknown", looksThrough: "nothing" }], {
    action: "remove-install",
    component: "front-bumper-cover",
  });
  const id = "front-radar/calibration";

  it("names its questions, and where the answer belongs", () => {
    const audit = auditPlan(job, { ...complete(job), document: "estimate", lines: [] }, options);
    expect(summarise(audit)).toEqual([["undecided-requirement", id]]);
    const asked = planCalibrations(job, options).questions.filter(({ settles }) => settles.includes(id));
    expect(asked.length).toBeGreaterThan(0);
    for (const { ask, about } of asked) {
      expect(audit.findings[0]?.says).toContain(ask);
      expect(audit.findings[0]?.because).toContain(about);
      expect(audit.findings[0]?.resolvedBy).toContain(about);
    }
    expect(audit.totals).toMatchObject({ medium: 1, undecided: 1 });
    expect(audit.cautions[1]).toMatch(/open/);
  });

  it("supports a line all the same, and is waived by a document", () => {
    const document = complete(job);
    expect(summarise(auditPlan(job, document, options))).toEqual([]);
    const waiver: SubmittedLine = {
      id: "S1",
      sensor: "front-radar",
      task: "calibration",
      result: "not-done",
      waiver: { cite: "Invented manual, 12" },
    };
    const waived = auditPlan(job, { ...document, lines: [waiver] }, options);
    expect(summarise(waived)).toEqual([]);
    const uncited = auditPlan(job, { ...document, lines: [{ ...waiver, waiver: null }] }, options);
    expect(summarise(uncited)).toEqual([["undecided-requirement", id]]);
  });
});

describe("a task that the maker's document waives", () => {
  const tind = loadProcedures(
    JSON.parse(
      readFileSync(new URL("../../docs/demo/procedures/norrvik-tind.json", import.meta.url), "utf8"),
    ),
  );
  const withTind = { rulebook: options.rulebook, procedures: [tind] };
  /** New wheels with the old pressure sensors: the receiver knows them already. */
  const base = jobOf([{ sensor: "tyre-pressure-sensors", fitted: "yes", variant: "direct" }], {
    action: "replace",
    component: "wheel",
    axle: "front",
    side: "left",
  });
  const job: Job = { ...base, vehicle: { ...base.vehicle, model: "Tind" } };
  const id = "tyre-pressure-sensors/relearn";
  const line: SubmittedLine = {
    id: "S1",
    sensor: "tyre-pressure-sensors",
    task: "relearn",
    result: "passed",
    performedBy: { person: "Ada Lind" },
  };

  it("is waived in this job", () => {
    const { waived, requirements } = planCalibrations(job, withTind);
    expect(waived.map(({ sensor, task }) => `${sensor}/${task}`)).toEqual([id]);
    expect(requirements.map((each) => each.id)).not.toContain(id);
  });

  it("is not missing, and a line for it is supported by the work that asked for it", () => {
    const document = submittedFromPlan(planCalibrations(job, withTind));
    const without = auditPlan(job, document, withTind);
    expect(summarise(without)).toEqual([]);
    expect(without.pairs).toContainEqual({ requirement: id, lines: [], standing: null, state: "waived" });
    const listed = auditPlan(job, { ...document, lines: [...document.lines, line] }, withTind);
    expect(summarise(listed)).toEqual([]);
    expect(listed.pairs).toContainEqual({ requirement: id, lines: ["S1"], standing: null, state: "waived" });
  });
});

describe("one device under two names", () => {
  const job = jobOf(
    [
      { sensor: "surround-camera", fitted: "yes", looksThrough: "nothing" },
      {
        sensor: "rear-camera",
        fitted: "yes",
        sameDeviceAs: "surround-camera:rear",
        serves: ["surround-view"],
      },
    ],
    { action: "replace", component: "sensor", sensor: "rear-camera" },
    { action: "replace", component: "sensor", sensor: "surround-camera", position: "rear" },
  );
  const id = "surround-camera:rear/calibration";
  const under = (sensor: "rear-camera" | "surround-camera", position: "rear" | null): Submitted => {
    const document = complete(job);
    return {
      ...document,
      lines: document.lines.map((line) =>
        line.id === `S-${id}` ? { ...line, id: "S1", sensor, position } : line,
      ),
    };
  };

  it("is listed under one of them in this job", () => {
    const found = planCalibrations(job, options).requirements.filter(({ task }) => task === "calibration");
    expect(found.map((each) => [each.id, each.alsoFor])).toContainEqual([id, ["rear-camera"]]);
  });

  it("is answered by a line under either name, or for all positions", () => {
    for (const [sensor, position] of [
      ["rear-camera", null],
      ["surround-camera", "rear"],
      ["surround-camera", null],
    ] as const) {
      const findings = summarise(auditPlan(job, under(sensor, position), options));
      expect(findings.filter(([, requirement]) => requirement === id)).toEqual([]);
    }
  });

  it("is billed twice by a line under each name", () => {
    const document = under("rear-camera", null);
    const first = document.lines.find((line) => line.id === "S1");
    const again = { ...first, id: "S2", sensor: "surround-camera", position: "rear" } as SubmittedLine;
    const audit = auditPlan(job, { ...document, lines: [...document.lines, again] }, options);
    expect(audit.findings.map(({ kind, line }) => [kind, line])).toContainEqual(["duplicate-line", "S2"]);
  });
});

describe("lines for all positions of a sensor", () => {
  const job = jobOf(
    [{ sensor: "rear-corner-radar", fitted: "yes", mount: "rear-structure", looksThrough: "nothing" }],
    { action: "replace", component: "sensor", sensor: "rear-corner-radar", position: "left" },
    { action: "replace", component: "sensor", sensor: "rear-corner-radar", position: "right" },
  );
  const [left, right] = ["rear-corner-radar:left/calibration", "rear-corner-radar:right/calibration"];
  const line = (
    id: string,
    position: "left" | "right" | null,
    hours: number,
    result: "passed" | "failed",
  ) => ({
    id,
    sensor: "rear-corner-radar" as const,
    position,
    task: "calibration" as const,
    method: "static" as const,
    started: hour(hours),
    finished: hour(hours),
    result,
    performedBy: { firm: "Bay Nine" },
  });
  const with_ = (...lines: readonly SubmittedLine[]): Audit => {
    const document = complete(job);
    const records = (document.records ?? []).map((each) =>
      ["road-test", "post-repair-scan"].includes(each.kind) ? { ...each, at: hour(100) } : each,
    );
    return auditPlan(job, { ...document, released: hour(200), lines: [...lines], records }, options);
  };

  it("answer each of them, and are made good position by position", () => {
    expect(summarise(with_(line("S1", null, 5, "passed")))).toEqual([]);
    const half = with_(line("S1", null, 5, "failed"), line("S2", "left", 6, "passed"));
    expect(summarise(half)).toEqual([
      ["customer-notice-missing", right],
      ["result-failed", null],
    ]);
    const whole = with_(
      line("S1", null, 5, "failed"),
      line("S2", "left", 6, "passed"),
      line("S3", "right", 7, "passed"),
    );
    expect(summarise(whole)).toEqual([]);
  });

  it("are billed again by a line for one of them, not by lines for one each", () => {
    expect(summarise(with_(line("S1", "left", 5, "passed"), line("S2", "right", 6, "passed")))).toEqual([]);
    expect(summarise(with_(line("S1", null, 5, "passed"), line("S2", "left", 6, "passed")))).toEqual([
      ["duplicate-line", left],
    ]);
  });

  it("name the vehicle on each of their records", () => {
    const evidence = [{ kind: "calibration-record" as const, vin: "22222222222222222" }];
    const audit = with_({ ...line("S1", null, 5, "passed"), evidence });
    expect(audit.findings).toMatchObject([{ kind: "vehicle-mismatch", line: "S1" }]);
    expect(audit.findings[0]?.says).toContain(VIN);
  });
});

describe("a separate calibration record that failed", () => {
  it("is made good by a later line of its sensor that passed", () => {
    const job = jobOf([{ sensor: "front-radar", fitted: "yes", mount: "front-structure" }], {
      action: "replace",
      component: "sensor",
      sensor: "front-radar",
    });
    const document = complete(job);
    const failedAt = (hours: number): Audit =>
      auditPlan(
        job,
        {
          ...document,
          records: [
            ...(document.records ?? []).filter(({ kind }) => kind !== "calibration-record"),
            {
              kind: "calibration-record",
              sensor: "front-radar",
              vin: VIN,
              at: hour(hours),
              result: "failed",
            },
          ],
        },
        options,
      );
    const end = Number(document.lines[0]?.finished?.slice(11, 13));
    expect(summarise(failedAt(0))).toEqual([]);
    expect(end).toBeLessThan(23);
    expect(summarise(failedAt(end + 30))).toEqual([["result-failed", null]]);
  });
});
