import { InputError, nearestOf, type Issue } from "../errors.js";
import { checkPosition, guardDocument, inDocumentOrder, issuesOf } from "../shapes/index.js";
import {
  COMPONENTS,
  SENSOR_IDS,
  componentOf,
  findCarrierCircle,
  type ComponentId,
  type ComponentTerm,
  type PositionId,
  type StatedCarriers,
} from "../vocabulary/index.js";
import {
  equipmentShape,
  jobShape,
  operationShape,
  vinShape,
  type Job,
  type JobEquipment,
  type JobOperation,
} from "./shape.js";
import { readVin, type VinReading } from "./vin.js";

/** Something odd in a job that does not stop it from being read. */
export interface Warning {
  readonly about: string;
  readonly says: string;
}

/** A job that has passed every check, with what its VIN says. */
export interface ReadJob {
  readonly job: Job;
  readonly vin: VinReading | null;
  /** The model years that the vehicle can be of; empty where nothing says. */
  readonly modelYears: readonly number[];
  readonly warnings: readonly Warning[];
  readonly contradictions: readonly { readonly about: readonly string[]; readonly says: string }[];
}

/**
 * Reads a job (`repair-calibration/job@1`).
 *
 * Throws `InputError` of kind "input" with every issue found, in the order of the document: each names the JSON
 * pointer, what was expected and, where a word is misspelt, the nearest one.
 */
export function readJob(input: unknown): ReadJob {
  const harmful = guardDocument(input);
  if (harmful.length > 0) throw new InputError("input", harmful);
  const parsed = jobShape.safeParse(input);
  const beyondShape = checkReadableParts(input);
  if (!parsed.success) {
    const issues = issuesOf(parsed.error, jobShape, input);
    const isOther = issues.some(({ code }) => code === "unknown-schema");
    throw new InputError("input", isOther ? issues : inDocumentOrder([...issues, ...beyondShape], input));
  }
  if (beyondShape.length > 0) throw new InputError("input", inDocumentOrder(beyondShape, input));
  const circles = checkCarriers(parsed.data);
  if (circles.length > 0) throw new InputError("input", circles);
  const { job, contradictions } = leaveOutContradictions(parsed.data);
  const vin = readVehicleVin(job);
  const stated = job.vehicle.modelYear;
  const fromVin = vin?.modelYears ?? [];
  const disagrees = stated !== undefined && fromVin.length > 0 && !fromVin.includes(stated);
  return {
    job,
    vin,
    modelYears: disagrees ? [] : stated === undefined ? fromVin : [stated],
    warnings: [...(vin === null ? [] : warnOfVin(vin)), ...job.operations.flatMap(warnOfPlace)],
    contradictions: [
      ...contradictions,
      ...(disagrees
        ? [
            {
              about: ["/vehicle/modelYear", "/vehicle/vin"],
              says: `The model year ${stated} is stated, but the VIN says ${fromVin.join(" or ")}; the year counts as unknown.`,
            },
          ]
        : []),
    ],
  };
}

/** A measured ride height may differ by this much from the amount of a modification, mm; common practice, no source. */
const RIDE_HEIGHT_TOLERANCE = 10;

/**
 * Leaves out what contradicts another statement of the job, so that it counts as unknown, and says so.
 * Contradictions about the sensor fit are found where the fit is read.
 */
function leaveOutContradictions(job: Job): Pick<ReadJob, "job" | "contradictions"> {
  const contradictions: { readonly about: readonly string[]; readonly says: string }[] = [];
  const operations = job.operations.map((operation, index): JobOperation => {
    const { adjusted, ...rest } = operation;
    if (operation.action !== "adjust" || adjusted?.includes("nothing") !== true) return operation;
    contradictions.push({
      about: [`/operations/${index}/action`, `/operations/${index}/adjusted`],
      says: `${operation.id} adjusts, but also says that nothing was adjusted; what was adjusted counts as unknown.`,
    });
    return rest;
  });
  const measured = job.findings?.rideHeightChange;
  const modified = operations.findIndex(
    ({ component, amount }) =>
      component === "ride-height" &&
      measured !== undefined &&
      (["front", "rear"] as const).some(
        (axle) => Math.abs((amount?.[axle] ?? measured[axle]) - measured[axle]) > RIDE_HEIGHT_TOLERANCE,
      ),
  );
  if (modified < 0 || job.findings === undefined) return { job: { ...job, operations }, contradictions };
  const { rideHeightChange: _contradicted, ...findings } = job.findings;
  contradictions.push({
    about: [`/operations/${modified}/amount`, "/findings/rideHeightChange"],
    says: `The ride height measured does not fit the amount of ${operations[modified]?.id ?? ""}; the change counts as unknown.`,
  });
  return { job: { ...job, operations, findings }, contradictions };
}

function readVehicleVin(job: Job): VinReading | null {
  const { vin, market, vehicleClass } = job.vehicle;
  if (vin === undefined) return null;
  return readVin(vin, { market: market ?? "unknown", vehicleClass: vehicleClass ?? "unknown" });
}

/**
 * What is wrong beyond their shape in the parts of a job whose own shape is right, whatever the others look like: a
 * person who corrects a job wants to hear of everything at once.
 */
function checkReadableParts(input: unknown): readonly Issue[] {
  const vehicle = fieldOf(input, "vehicle");
  const operations = entriesOf(fieldOf(input, "operations"));
  return [
    ...checkVin(vehicle),
    ...entriesOf(fieldOf(vehicle, "equipment")).flatMap((entry, index) => {
      const parsed = equipmentShape.safeParse(entry);
      return parsed.success ? checkEquipment(parsed.data, index) : [];
    }),
    ...checkIds(operations.map((each) => fieldOf(each, "id"))),
    ...operations.flatMap((entry, index) => {
      const parsed = operationShape.safeParse(entry);
      return parsed.success ? checkOperation(parsed.data, index) : [];
    }),
  ];
}

function fieldOf(value: unknown, key: string): unknown {
  const holds = value !== null && typeof value === "object" && Object.hasOwn(value, key);
  return holds ? (value as Readonly<Record<string, unknown>>)[key] : undefined;
}

function entriesOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
}

function checkVin(vehicle: unknown): readonly Issue[] {
  const parsed = vinShape.safeParse({
    vin: fieldOf(vehicle, "vin"),
    market: fieldOf(vehicle, "market"),
    vehicleClass: fieldOf(vehicle, "vehicleClass"),
  });
  if (!parsed.success || parsed.data.vin === undefined) return [];
  const { vin, market = "unknown", vehicleClass = "unknown" } = parsed.data;
  return readVin(vin, { market, vehicleClass }).issues.map((issue) => ({
    ...issue,
    pointer: "/vehicle/vin",
  }));
}

function warnOfVin(vin: VinReading): readonly Warning[] {
  return vin.notes.map((note) => ({ about: "/vehicle/vin", says: note.says }));
}

function checkIds(ids: readonly unknown[]): readonly Issue[] {
  const first = new Map<string, number>();
  return ids.flatMap((id, index) => {
    if (typeof id !== "string") return [];
    const before = first.get(id);
    if (before === undefined) {
      first.set(id, index);
      return [];
    }
    return [
      {
        code: "duplicate-id" as const,
        pointer: `/operations/${index}/id`,
        message: `the id ${JSON.stringify(id)} is taken by /operations/${before}`,
        expected: "an id of its own for each operation",
      },
    ];
  });
}

function checkOperation(operation: JobOperation, index: number): readonly Issue[] {
  const pointer = `/operations/${index}`;
  const issues: Issue[] = [];
  if (operation.component === "other" && (operation.text ?? "").trim() === "") {
    issues.push({
      code: "missing-key",
      pointer: `${pointer}/text`,
      message: 'an operation on the component "other" says in its text what it is',
      expected: "the line as written on the order",
    });
  }
  const isNamed = operation.component === "sensor" || operation.component === "sensor-bracket";
  if (isNamed && operation.sensor === undefined) {
    issues.push({
      code: "missing-key",
      pointer: `${pointer}/sensor`,
      message: `an operation on a ${operation.component} names the sensor`,
      expected: `one of the ${SENSOR_IDS.length} sensor ids`,
    });
  }
  if (operation.sensor !== undefined) {
    issues.push(...checkPosition(operation.sensor, operation.position, `${pointer}/position`));
  }
  (operation.serves ?? []).forEach((reference, at) => {
    issues.push(...checkReference(reference, `${pointer}/serves/${at}`));
  });
  return issues;
}

function checkReference(reference: string, pointer: string): readonly Issue[] {
  const [sensor = "", position] = reference.split(":");
  const known = SENSOR_IDS.find((each) => each === sensor);
  if (known === undefined) {
    const nearest = nearestOf(sensor, SENSOR_IDS);
    return [
      {
        code: "unknown-id",
        pointer,
        message: `"${sensor}" is no sensor`,
        expected: `one of the ${SENSOR_IDS.length} sensor ids, with its position after a colon`,
        ...(nearest === undefined ? {} : { nearest }),
      },
    ];
  }
  return checkPosition(known, (position ?? null) as PositionId | null, pointer);
}

function checkEquipment(entry: JobEquipment, index: number): readonly Issue[] {
  return [
    ...checkPosition(entry.sensor, entry.position, `/vehicle/equipment/${index}/position`),
    ...(entry.sameDeviceAs === undefined
      ? []
      : checkReference(entry.sameDeviceAs, `/vehicle/equipment/${index}/sameDeviceAs`)),
  ];
}

/** A part carried by what it carries would have no place on the vehicle. */
function checkCarriers(job: Job): readonly Issue[] {
  const entries = Object.entries(job.vehicle.carriedBy ?? {}).flatMap(([part, carrier]) =>
    carrier === undefined ? [] : [[componentOf(part), componentOf(carrier)]],
  );
  const circle = findCarrierCircle(Object.fromEntries(entries) as StatedCarriers);
  if (circle === null) return [];
  return [
    {
      code: "invalid-value",
      pointer: "/vehicle/carriedBy",
      message: `these parts would carry one another in a circle: ${circle.join(" → ")}`,
      expected: "for each part, what it is fastened to",
    },
  ];
}

/** A side on a part that has none is kept out of the reasoning, and said. */
function warnOfPlace(operation: JobOperation, index: number): readonly Warning[] {
  const term: ComponentTerm | undefined = (COMPONENTS as Readonly<Record<string, ComponentTerm>>)[
    operation.component as ComponentId
  ];
  if (term === undefined) return [];
  const warn = (field: string): Warning => ({
    about: `/operations/${index}/${field}`,
    says: `${operation.id}: a ${term.label} has no ${field}; what was stated is not used.`,
  });
  return [
    ...(operation.side !== undefined && !term.sided ? [warn("side")] : []),
    ...(operation.axle !== undefined && !term.axled ? [warn("axle")] : []),
  ];
}
