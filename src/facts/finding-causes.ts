import type { Job, JobFindings } from "../job/index.js";
import { known, knownWord, oneOf, unbounded, type FactValue } from "../logic/index.js";
import type { CauseKind } from "../rulebook/index.js";
import {
  CODE_READ,
  CODE_STATUS,
  componentOf,
  failureTypeOf,
  meaningOfFailureType,
  type Zone,
} from "../vocabulary/index.js";
import {
  BlankFacts,
  NO,
  NONE,
  YES,
  indexKeyOf,
  readPlace,
  readWord,
  type Cause,
  type CauseFacts,
} from "./causes.js";
import type { Unknown } from "./unknowns.js";

function factsWith(given: Partial<CauseFacts>): CauseFacts {
  return Object.assign(new BlankFacts(), given);
}

/**
 * The causes that the findings of the job are, those that were stated.
 * `filmLimit` is the thickest film, in micrometres, that a maker's procedure allows over a radar, where one says so.
 */
export function causesOfFindings(findings: JobFindings, filmLimit: number | null): readonly Cause[] {
  return [
    ...(findings.impactZones ?? []).map((zone, index) => causeOfImpact(zone, index)),
    ...(findings.impactWheels ?? []).map((wheel, index) => {
      const pointer = `/findings/impactWheels/${index}`;
      const key = keyOfFinding("impact-wheel", wheel);
      return finding(
        "impact-wheel",
        pointer,
        {
          side: readWord(wheel.side, ["left", "right"], () => ({
            key: `${key}/side`,
            topic: "place",
            about: `${pointer}/side`,
            ask: "On which side was the wheel hit?",
            answers: ["left", "right"],
          })),
          axle: readWord(wheel.axle, ["front", "rear"], () => ({
            key: `${key}/axle`,
            topic: "place",
            about: `${pointer}/axle`,
            ask: "On which axle was the wheel hit?",
            answers: ["front", "rear"],
          })),
        },
        null,
        wheel,
      );
    }),
    ...(findings.airbagsDeployed === true
      ? [finding("airbags-deployed", "/findings/airbagsDeployed", {})]
      : []),
    ...(findings.structuralDamage === true
      ? [finding("structural-damage", "/findings/structuralDamage", {})]
      : []),
    ...(findings.faultCodes ?? []).map((code, index) => causeOfCode(code, index)),
    ...(findings.sensorDamage ?? []).map((damage, index) => {
      const { sensor, position = null } = damage;
      const facts = { aboutSensor: knownWord(sensor) };
      return finding("sensor-damage", `/findings/sensorDamage/${index}`, facts, { sensor, position }, damage);
    }),
    ...(findings.tyreSizesMatch === "no"
      ? [finding("tyre-sizes-mixed", "/findings/tyreSizesMatch", {})]
      : []),
    ...(["front", "rear"] as const).flatMap((axle) =>
      (findings.rideHeightChange?.[axle] ?? 0) === 0
        ? []
        : [
            finding(
              "ride-height-change",
              `/findings/rideHeightChange/${axle}`,
              { axle: knownWord(axle) },
              null,
              axle,
            ),
          ],
    ),
    ...(findings.filmThickness ?? []).map((film, index) => {
      const pointer = `/findings/filmThickness/${index}`;
      return finding(
        "film-thickness",
        pointer,
        {
          component: known(componentOf(film.component)),
          measurement: known("film-thickness"),
          measuredWhen: known("after"),
          verdict: known(filmLimit === null ? "undecided" : film.micrometres <= filmLimit ? "in" : "out"),
          overRadar:
            film.overRadar === "unknown"
              ? oneOf(
                  ["yes", "no"],
                  [
                    {
                      key: `${keyOfFinding("film-thickness", film)}/overRadar`,
                      topic: "finding",
                      about: `${pointer}/overRadar`,
                      ask: "Was the film measured over the window of a radar?",
                      answers: ["yes", "no"],
                    },
                  ],
                )
              : film.overRadar
                ? YES
                : NO,
        },
        null,
        film,
      );
    }),
    ...(findings.measurements ?? []).map(causeOfMeasurement),
  ];
}

type Measurement = NonNullable<JobFindings["measurements"]>[number];

/** Measurements that are made at one axle, so that leaving the axle out leaves it open. */
const AT_AN_AXLE: readonly Measurement["kind"][] = ["ride-height", "total-toe", "tread-depth"];

function causeOfMeasurement(measured: Measurement, index: number): Cause {
  const pointer = `/findings/measurements/${index}`;
  const place = (field: "axle" | "side", places: readonly string[], applies: boolean): FactValue<Unknown> =>
    readPlace(applies || measured[field] !== undefined, measured[field], places, () => ({
      key: `${keyOfFinding("measurement", measured)}/${field}`,
      topic: "place",
      about: `${pointer}/${field}`,
      ask: `At which ${field} was the ${measured.kind} measured?`,
      answers: places,
    }));
  return finding(
    "measurement",
    pointer,
    {
      measurement: knownWord(measured.kind),
      measuredWhen: knownWord(measured.when),
      verdict: known(measured.verdict ?? judge(measured)),
      component: measured.component === undefined ? NONE : known(componentOf(measured.component)),
      axle: place("axle", ["front", "rear"], AT_AN_AXLE.includes(measured.kind)),
      side: place("side", ["left", "right"], false),
    },
    null,
    measured,
  );
}

function causeOfImpact(zone: Zone, index: number): Cause {
  return finding(
    "impact-zone",
    `/findings/impactZones/${index}`,
    { impactZone: knownWord(zone) },
    null,
    zone,
  );
}

function causeOfCode(code: NonNullable<JobFindings["faultCodes"]>[number], index: number): Cause {
  const pointer = `/findings/faultCodes/${index}`;
  const ask = (key: string, question: string, answers: readonly string[]): Unknown => ({
    key: `${keyOfFinding("fault-code", code)}/${key}`,
    topic: "finding",
    about: `${pointer}/${key}`,
    ask: question,
    answers,
  });
  const position = code.position ?? null;
  return finding(
    "fault-code",
    pointer,
    {
      aboutSensor: knownWord(code.sensor),
      codeMeans: readCodeMeaning(code, ask),
      codeRead: readWord(code.read, CODE_READ, () =>
        ask("read", `When was the ${code.sensor} fault code read?`, CODE_READ),
      ),
      codeStatus: readWord(code.status, CODE_STATUS, () =>
        ask("status", `Is the ${code.sensor} fault code active or only stored?`, CODE_STATUS),
      ),
    },
    { sensor: code.sensor, position },
    code,
  );
}

function readCodeMeaning(
  code: NonNullable<JobFindings["faultCodes"]>[number],
  ask: (key: string, question: string, answers: readonly string[]) => Unknown,
): FactValue<Unknown> {
  if (code.means !== undefined) return knownWord(code.means);
  const byte = code.code === undefined ? null : failureTypeOf(code.code);
  if (byte !== null) return known(meaningOfFailureType(byte));
  return unbounded(ask("means", `What does the ${code.sensor} fault code mean?`, []));
}

function judge(measured: {
  readonly value: number;
  readonly low?: number | undefined;
  readonly high?: number | undefined;
}): string {
  if (measured.low === undefined && measured.high === undefined) return "undecided";
  const isIn = measured.value >= (measured.low ?? -Infinity) && measured.value <= (measured.high ?? Infinity);
  return isIn ? "in" : "out";
}

/**
 * A finding is known by what it says, not by where it stands, so that the order of findings never matters. The line
 * break, which no stated id holds, keeps a line from being taken for a finding.
 */
function keyOfFinding(kind: CauseKind, content: unknown): string {
  return `${kind}\n${JSON.stringify(content)}`;
}

export function finding(
  kind: CauseKind,
  pointer: string,
  facts: Partial<CauseFacts>,
  names: Cause["names"] = null,
  content: unknown = null,
): Cause {
  return {
    key: keyOfFinding(kind, content),
    indexKey: indexKeyOf(kind, "none", String(facts.component?.candidates?.[0] ?? "none")),
    kind,
    pointer,
    operation: null,
    stated: null,
    names,
    isSupposed: false,
    facts: factsWith({ cause: knownWord(kind), ...facts }),
  };
}

/** Kinds of findings of which the job says nothing, with the question that each one is. */
export function openFindings(job: Job): readonly { readonly kind: CauseKind; readonly unknown: Unknown }[] {
  const findings = job.findings ?? {};
  const open = (kind: CauseKind, field: string, ask: string, answers: readonly string[]) => ({
    kind,
    unknown: {
      key: `findings/${field}`,
      topic: "finding" as const,
      about: `/findings/${field}`,
      ask,
      answers,
    },
  });
  return [
    ...(findings.impactZones === undefined
      ? [
          open("impact-zone", "impactZones", "Which zones of the vehicle were hit, if any?", [
            "none",
            "front",
            "rear",
            "left",
            "right",
            "roof",
            "underside",
          ]),
        ]
      : []),
    ...(findings.impactWheels === undefined
      ? [
          open("impact-wheel", "impactWheels", "Was a wheel hit, and which?", [
            "none",
            "the wheel's axle and side",
          ]),
        ]
      : []),
    ...(typeof findings.airbagsDeployed !== "boolean"
      ? [open("airbags-deployed", "airbagsDeployed", "Did an airbag deploy?", ["yes", "no"])]
      : []),
    ...(typeof findings.structuralDamage !== "boolean"
      ? [open("structural-damage", "structuralDamage", "Was damage to the structure found?", ["yes", "no"])]
      : []),
    ...(findings.faultCodes === undefined
      ? [
          open(
            "fault-code",
            "faultCodes",
            "Which fault codes of driver-assistance sensors are stored, if any?",
            ["none", "the codes, with when they were read"],
          ),
        ]
      : []),
    ...(findings.rideHeightChange === undefined
      ? [
          open(
            "ride-height-change",
            "rideHeightChange",
            "Did the ride height change from before the repair, and by how much?",
            ["no", "the change per axle in mm"],
          ),
        ]
      : []),
  ];
}

/** The finding of a kind of which the job says nothing, with everything about it open. */
export function supposeFinding(kind: CauseKind, unknown: Unknown): Cause {
  const open = unbounded(unknown);
  return {
    ...finding(kind, unknown.about, {
      side: open,
      axle: open,
      impactZone: open,
      codeMeans: open,
      codeRead: open,
      codeStatus: open,
      aboutSensor: open,
    }),
    isSupposed: true,
  };
}
