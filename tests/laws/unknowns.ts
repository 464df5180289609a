import type { Job } from "../../src/index.js";
import type { Findings, Operation } from "./arbitrary-job.js";

/** A job with one fact taken back to unknown. */
export interface Forgotten {
  readonly fact: string;
  readonly job: Job;
}

/** Every way to take back one fact that the job states. */
export function factsForgotten(job: Job): readonly Forgotten[] {
  return [...forgetOfVehicle(job), ...forgetOfOperations(job), ...forgetOfFindings(job)];
}

function isStated(value: unknown): boolean {
  return value !== undefined && value !== null && value !== "unknown";
}

function without<T extends object>(value: T, key: string): T {
  return Object.fromEntries(Object.entries(value).filter(([each]) => each !== key)) as T;
}

function forgetOfVehicle(job: Job): readonly Forgotten[] {
  const { vehicle } = job;
  const of = (fact: string, changed: Job["vehicle"]): Forgotten => ({
    fact: `/vehicle/${fact}`,
    job: { ...job, vehicle: changed },
  });
  const words = (["driveSide", "market", "vehicleClass", "levellingSuspension"] as const)
    .filter((field) => isStated(vehicle[field]))
    .map((field) => of(field, { ...vehicle, [field]: "unknown" }));
  const carriers = Object.keys(vehicle.carriedBy ?? {}).map((part) =>
    of(`carriedBy/${part}`, { ...vehicle, carriedBy: without(vehicle.carriedBy ?? {}, part) }),
  );
  const features = Object.entries(vehicle.features ?? {})
    .filter(([, value]) => value !== "unknown")
    .map(([feature]) =>
      of(`features/${feature}`, { ...vehicle, features: without(vehicle.features ?? {}, feature) }),
    );
  const equipment = vehicle.equipment ?? [];
  const entries = equipment.flatMap((entry, at) =>
    (["fitted", "mount", "looksThrough", "variant"] as const)
      .filter((field) => isStated(entry[field]))
      .map((field) =>
        of(`equipment/${at}/${field}`, {
          ...vehicle,
          equipment: equipment.map((each, index) => (index === at ? { ...each, [field]: "unknown" } : each)),
        }),
      ),
  );
  const complete =
    vehicle.equipmentComplete === true
      ? [of("equipmentComplete", { ...vehicle, equipmentComplete: false })]
      : [];
  return [...words, ...carriers, ...features, ...entries, ...complete];
}

const SERVING_ANY: readonly string[] = ["electronic-module", "wiring-harness"];

function forgetOfOperations(job: Job): readonly Forgotten[] {
  const of = (index: number, fact: string, changed: Operation): Forgotten => ({
    fact: `/operations/${index}/${fact}`,
    job: { ...job, operations: job.operations.map((each, at) => (at === index ? changed : each)) },
  });
  return job.operations.flatMap((operation, index) => [
    ...(
      [
        "side",
        "axle",
        "structural",
        "atMounting",
        "inSensorView",
        "storesCalibration",
        "sizeChanged",
        "sizeApproved",
        "fastening",
      ] as const
    )
      .filter((field) => isStated(operation[field]))
      .map((field) => of(index, field, { ...operation, [field]: "unknown" })),
    ...(isStated(operation.position) ? [of(index, "position", { ...operation, position: null })] : []),
    // Of other parts it is known which sensors they serve, unless the order says otherwise.
    ...(operation.serves === undefined || !SERVING_ANY.includes(operation.component)
      ? []
      : [of(index, "serves", without(operation, "serves"))]),
    ...(operation.part === undefined ? [] : [of(index, "part", without(operation, "part"))]),
    ...(operation.dependentWork === undefined
      ? []
      : [of(index, "dependentWork", without(operation, "dependentWork"))]),
    ...(operation.component === "wheel-alignment" && operation.action === "adjust"
      ? [of(index, "adjusted", { ...operation, adjusted: ["unknown"] })]
      : []),
  ]);
}

function forgetOfFindings(job: Job): readonly Forgotten[] {
  const { findings } = job;
  if (findings === undefined) return [];
  const of = (fact: string, changed: Findings): Forgotten => ({
    fact: `/findings/${fact}`,
    job: { ...job, findings: changed },
  });
  const whole = (
    [
      "impactZones",
      "impactWheels",
      "glassOrHeaderHit",
      "airbagsDeployed",
      "structuralDamage",
      "faultCodes",
      "rideHeightChange",
    ] as const
  )
    .filter((field) => isStated(findings[field]))
    .map((field) => of(field, without(findings, field)));
  const codes = (findings.faultCodes ?? []).flatMap((code, at) =>
    (["read", "status", "position"] as const)
      .filter((field) => isStated(code[field]))
      .map((field) =>
        of(`faultCodes/${at}/${field}`, {
          ...findings,
          faultCodes: (findings.faultCodes ?? []).map((each, index) =>
            index === at ? { ...each, [field]: field === "position" ? null : "unknown" } : each,
          ),
        }),
      ),
  );
  const films = (findings.filmThickness ?? []).flatMap((film, at) =>
    isStated(film.overRadar)
      ? [
          of(`filmThickness/${at}/overRadar`, {
            ...findings,
            filmThickness: (findings.filmThickness ?? []).map((each, index) =>
              index === at ? { ...each, overRadar: "unknown" as const } : each,
            ),
          }),
        ]
      : [],
  );
  return [...whole, ...codes, ...films];
}
