import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  auditPlan,
  readSubmitted,
  type Audit,
  type Submitted,
  type SubmittedLine,
  type SubmittedRecord,
} from "../../src/audit/index.js";
import { auditShape, FINDING_KINDS } from "../../src/audit/shape.js";
import { loadRulebook, planCalibrations, type Job } from "../../src/index.js";
import { EVIDENCE_IDS, METHOD_IDS, SENSOR_IDS, TASK_IDS, positionsOf } from "../../src/vocabulary/index.js";
import { VIN, hour, submittedFromPlan } from "../audit/submitted-from-plan.js";
import { check } from "../properties.js";
import { anyJob, freezeDeep } from "./arbitrary-job.js";
import { FIRST_PACK, SECOND_PACK } from "./invented-procedures.js";

/** Each run plans a job several times over. */
const RUNS = 80;

const options = { rulebook: loadRulebook(), procedures: [FIRST_PACK, SECOND_PACK] };

const completeDocument = (job: Job): Submitted => submittedFromPlan(planCalibrations(job, options));

/** Leaves one entry out of a list. */
function without<T>(list: readonly T[], index: number): T[] {
  return list.filter((_, at) => at !== index);
}

const shuffled = <T>(list: readonly T[]): fc.Arbitrary<T[]> =>
  fc.shuffledSubarray([...list], { minLength: list.length, maxLength: list.length });

const place = fc
  .constantFrom(...SENSOR_IDS)
  .chain((sensor) => fc.constantFrom(...positionsOf(sensor), null).map((position) => ({ sensor, position })));
const time = fc.option(fc.nat({ max: 200 }).map(hour), { nil: undefined });
const result = fc.constantFrom(
  "passed" as const,
  "passed" as const,
  "failed" as const,
  "aborted" as const,
  "not-done" as const,
  "unknown" as const,
  undefined,
);
const vin = fc.constantFrom(undefined, VIN, "1FJEKR55X20000011", "nonsense");

/** Left-out fields are left out, as in a document. */
function compact<T extends object>(value: T): T {
  return Object.fromEntries(Object.entries(value).filter(([, each]) => each !== undefined)) as T;
}

const record: fc.Arbitrary<SubmittedRecord> = fc
  .record({
    kind: fc.constantFrom(...EVIDENCE_IDS),
    place: fc.option(place, { nil: undefined }),
    at: time,
    result,
    vin,
    values: fc.option(fc.record({ minutes: fc.nat(30), until: fc.constantFrom(hour(4), "later") }), {
      nil: undefined,
    }),
  })
  .map(({ place: at, ...each }) => compact({ ...each, ...at }));

const line: fc.Arbitrary<SubmittedLine> = fc
  .record({
    place,
    task: fc.constantFrom(...TASK_IDS, "calibration" as const, "calibration" as const),
    method: fc.option(fc.constantFrom(...METHOD_IDS), { nil: undefined }),
    times: fc.option(fc.tuple(fc.nat({ max: 99 }), fc.nat({ max: 99 })), { nil: undefined }),
    result,
    waiver: fc.constantFrom(undefined, null, { cite: "" }, { cite: "Manual 7", section: "2" }),
    setUp: fc.constantFrom(undefined, "A"),
    evidence: fc.array(
      fc.record({ kind: fc.constantFrom(...EVIDENCE_IDS), vin, at: time, result }).map(compact),
      { maxLength: 3 },
    ),
    performedBy: fc.constantFrom(undefined, { person: "Ada Lind" }, { equipment: "frame 3" }),
    procedure: fc.constantFrom(undefined, { cite: "Manual 7", issued: "2020-01-01" }),
  })
  .map(({ place: at, times, ...each }) =>
    compact({
      id: "",
      ...at,
      ...(times === undefined ? {} : { started: hour(times[0]), finished: hour(times[0] + times[1]) }),
      ...each,
    }),
  );

const anyDocument: fc.Arbitrary<Submitted> = fc
  .record({
    schema: fc.constant("repair-calibration/submitted@1" as const),
    document: fc.constantFrom("estimate" as const, "work-record" as const, "invoice" as const),
    vin,
    released: time,
    lines: fc
      .array(line, { maxLength: 6 })
      .map((list) => list.map((each, index) => ({ ...each, id: `S${index + 1}` }))),
    records: fc.array(record, { maxLength: 6 }),
  })
  .map(compact);

/** What a person would look for in a finding about a record. */
function tellsOf(kind: string, { findings }: Audit): boolean {
  return findings.some((finding) => finding.because.some((each) => each === kind) || isAsked(kind, finding));
}

/** A finding about a precondition names that, and its remedy names the record. */
function isAsked(kind: string, { resolvedBy }: Audit["findings"][number]): boolean {
  const labels: Readonly<Record<string, string>> = {
    "wheel-alignment": "wheel alignment printout",
    "ride-height": "ride-height sheet",
    "tyre-pressure": "tyre sheet",
    "film-thickness": "film-thickness readings",
    "floor-survey": "floor survey",
    "repairs-complete": "repairs complete",
    "adhesive-cure": "adhesive cure",
    "battery-support": "battery support",
    "part-identification": "part identification",
    "pre-calibration-scan": "pre-calibration scan",
    "structural-measurement": "structural measurement",
    inspection: "inspection record",
    "drive-log": "drive log",
  };
  return resolvedBy.includes(labels[kind] ?? kind);
}

describe("a work record of everything that its plan asks for", () => {
  it("leaves nothing to find", () => {
    check(
      fc.property(anyJob, (job) => {
        const audit = auditPlan(job, completeDocument(job), options);
        expect(audit.findings).toEqual([]);
        expect(audit.outcome).toBe("nothing-found");
        expect(audit.pairs.every(({ state }) => state === "answered" || state === "waived")).toBe(true);
      }),
      RUNS,
    );
  });

  it("leaves nothing to find as an invoice, and holds that were cleared open none on an estimate", () => {
    check(
      fc.property(anyJob, fc.constantFrom("invoice" as const, "estimate" as const), (job, document) => {
        expect(auditPlan(job, { ...completeDocument(job), document }, options).findings).toEqual([]);
      }),
      RUNS,
    );
  });

  it("without any one line leaves its requirement to be found, unless an inspection on record closes it", () => {
    check(
      fc.property(anyJob, fc.nat(), (job, draw) => {
        const complete = completeDocument(job);
        fc.pre(complete.lines.length > 0);
        const index = draw % complete.lines.length;
        const requirement = planCalibrations(job, options).requirements[index];
        const audit = auditPlan(job, { ...complete, lines: without(complete.lines, index) }, options);
        const kinds = audit.findings
          .filter((finding) => finding.requirement === requirement?.id)
          .map(({ kind }) => kind);
        switch (requirement?.standing) {
          case "required":
          case "presumed":
            expect(kinds).toContain("missing-requirement");
            break;
          case "undetermined":
            expect(kinds).toContain("undecided-requirement");
            break;
          default: {
            const pair = audit.pairs.find((each) => each.requirement === requirement?.id);
            expect(kinds.includes("missing-inspection")).toBe(pair?.state === "not-answered");
          }
        }
      }),
      RUNS,
    );
  });

  it("without any one record has that record asked for", () => {
    check(
      fc.property(anyJob, fc.nat(), (job, draw) => {
        const complete = completeDocument(job);
        const records = complete.records ?? [];
        fc.pre(records.length > 0);
        const index = draw % records.length;
        const audit = auditPlan(job, { ...complete, records: without(records, index) }, options);
        expect(
          tellsOf(records[index]?.kind ?? "", audit),
          JSON.stringify([records[index], audit.findings]),
        ).toBe(true);
      }),
      RUNS,
    );
  });

  it("with a record more, about a sensor that nothing is due for, changes in nothing", () => {
    check(
      fc.property(anyJob, fc.constantFrom(...EVIDENCE_IDS), (job, kind) => {
        const complete = completeDocument(job);
        const plan = planCalibrations(job, options);
        const named = new Set(plan.requirements.flatMap(({ sensor, alsoFor }) => [sensor, ...alsoFor]));
        const other = SENSOR_IDS.find((sensor) => ![...named].some((each) => each.startsWith(sensor)));
        fc.pre(other !== undefined);
        // What says when the last drive or scan was bears on the job as a whole.
        const at = kind === "road-test" || kind === "drive-log" ? hour(1) : hour(200);
        const records = [...(complete.records ?? []), compact({ kind, sensor: other, at })];
        expect(auditPlan(job, { ...complete, records }, options)).toEqual(auditPlan(job, complete, options));
      }),
      RUNS,
    );
  });

  it("done with one task failed says so, and asks for a notice once the vehicle is released", () => {
    check(
      fc.property(anyJob, fc.nat(), (job, draw) => {
        const complete = completeDocument(job);
        fc.pre(complete.lines.length > 0);
        const failing = draw % complete.lines.length;
        const lines = complete.lines.map((each, index) =>
          index === failing ? { ...each, result: "failed" as const } : each,
        );
        const audit = auditPlan(job, { ...complete, lines }, options);
        const failed = audit.findings.filter(({ kind }) => kind === "result-failed");
        expect(failed.map((finding) => finding.line)).toEqual([lines[failing]?.id]);
        expect(audit.findings.some(({ kind }) => kind === "customer-notice-missing")).toBe(true);
      }),
      RUNS,
    );
  });
});

describe("any document, however odd", () => {
  it("is audited to the published shape, with findings in order and totals that are their counts", () => {
    check(
      fc.property(anyJob, anyDocument, (job, document) => {
        const audit = auditPlan(job, document, options);
        expect(auditShape.parse(audit)).toEqual(audit);
        expect(audit.findings.map(({ id }) => id)).toEqual(audit.findings.map((_, index) => `F${index + 1}`));
        const ranks = audit.findings.map(({ severity }) => ["high", "medium", "low"].indexOf(severity));
        expect([...ranks].sort()).toEqual(ranks);
        const { high, medium, low } = audit.totals;
        expect(high + medium + low).toBe(audit.findings.length);
        for (const finding of audit.findings) {
          expect(finding.severity).toBe(FINDING_KINDS[finding.kind]);
          expect(finding.because.length, finding.kind).toBeGreaterThan(0);
          expect(finding.resolvedBy).not.toBe("");
        }
      }),
      RUNS,
    );
  });

  it("is audited alike in whatever order its lines and records stand, and stays as it was", () => {
    check(
      fc.property(
        anyJob.chain((job) =>
          anyDocument.chain((document) =>
            fc.record({
              job: fc.constant(job),
              document: fc.constant(document),
              lines: shuffled(document.lines),
              records: shuffled(document.records ?? []),
            }),
          ),
        ),
        ({ job, document, lines, records }) => {
          const frozen = freezeDeep(structuredClone(document));
          const audit = auditPlan(job, frozen, options);
          expect(auditPlan(job, { ...document, lines, records }, options)).toEqual(audit);
          expect(frozen).toEqual(document);
        },
      ),
      RUNS,
    );
  });

  it("names each of its lines in the pairs, and no line twice for one requirement", () => {
    check(
      fc.property(anyJob, anyDocument, (job, document) => {
        const { pairs } = auditPlan(job, document, options);
        const named = new Set(pairs.flatMap(({ lines }) => lines));
        expect(document.lines.filter(({ id }) => !named.has(id))).toEqual([]);
        for (const { lines } of pairs) expect(new Set(lines).size).toBe(lines.length);
      }),
      RUNS,
    );
  });

  it("as an estimate is held to nothing that only work done can show", () => {
    const ofAnyDocument = [
      "missing-requirement",
      "undecided-requirement",
      "missing-inspection",
      "unsupported-line",
      "method-mismatch",
      "duplicate-line",
      "scan-missing",
      "waiver-uncited",
      "procedure-superseded",
      "hold-open",
    ];
    check(
      fc.property(anyJob, anyDocument, (job, document) => {
        const { findings } = auditPlan(job, { ...document, document: "estimate" }, options);
        expect(findings.filter(({ kind }) => !ofAnyDocument.includes(kind))).toEqual([]);
      }),
      RUNS,
    );
  });

  it("is read as it stands", () => {
    check(
      fc.property(anyDocument, (document) => {
        expect(readSubmitted(document)).toEqual(document);
      }),
      RUNS,
    );
  });
});
