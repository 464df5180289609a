import { InputError, nearestOf, type Issue } from "../errors.js";
import type { LoadedProcedures, Procedure } from "../procedures/index.js";
import {
  CAUTIONS,
  SENSOR_IDS,
  acceptsPosition,
  type PositionId,
  type SensorId,
} from "../vocabulary/index.js";
import type { DriveFindings, DriveResult } from "./shape.js";

/** A procedure with its drive, and the pack that it stands in. */
export interface DriveProcedure {
  readonly loaded: LoadedProcedures;
  readonly procedure: Procedure & { readonly driveWindow: NonNullable<Procedure["driveWindow"]> };
  /** The position asked for: a procedure for all positions does not name it. */
  readonly position: PositionId | null;
}

/**
 * Finds the procedure that asks for a drive of a sensor: "forward-camera", "rear-corner-radar:left", or with its task
 * "forward-camera/calibration". A procedure for the position comes before one for all positions. Throws `InputError`
 * where there is no such sensor, where none of its procedures asks for a drive, and where several do.
 */
export function findDriveProcedure(packs: readonly LoadedProcedures[], name: string): DriveProcedure {
  const { sensor, position, task } = readName(name);
  const ofSensor = listDrives(packs).filter(
    ({ procedure }) => procedure.sensor === sensor && (task === null || procedure.task === task),
  );
  const exact = ofSensor.filter(({ procedure }) => (procedure.position ?? null) === position);
  const found =
    exact.length > 0 ? exact : ofSensor.filter(({ procedure }) => (procedure.position ?? null) === null);
  const [first, second] = found;
  if (first === undefined) refuseMissing(name, ofSensor, packs);
  if (second !== undefined) refuseSeveral(name, first, second);
  return { ...first, position };
}

/** Joins the findings of a log with the procedure that they were held against. */
export function joinDriveResult(
  { loaded: { pack, digest }, procedure, position }: DriveProcedure,
  findings: DriveFindings,
  reference: string | null,
): DriveResult {
  const { sensor, task, driveWindow, afterwards = [] } = procedure;
  return {
    schema: "repair-calibration/drive-result@1",
    reference,
    requirement: `${sensor}${position === null ? "" : `:${position}`}/${task}`,
    sensor,
    position,
    task,
    procedure: {
      pack: pack.id,
      version: pack.version,
      digest,
      title: pack.title,
      cite: pack.cite,
      issued: pack.issued,
      invented: pack.invented,
      id: procedure.id,
      section: procedure.section,
    },
    asked: driveWindow,
    ...findings,
    afterwards: [...afterwards],
    cautions: DRIVE_CAUTIONS,
  };
}

/** Traffic law first: it outranks what a procedure asks for. */
const DRIVE_CAUTIONS: string[] = ["driver", "maker-governs", "local-codes"].flatMap((id) =>
  CAUTIONS.filter((caution) => caution.id === id).map(({ text }) => text),
);

type Found = Omit<DriveProcedure, "position">;

function listDrives(packs: readonly LoadedProcedures[]): readonly Found[] {
  return packs.flatMap((loaded) =>
    loaded.pack.procedures.flatMap((procedure) => {
      const { driveWindow } = procedure;
      return driveWindow === undefined ? [] : [{ loaded, procedure: { ...procedure, driveWindow } }];
    }),
  );
}

function readName(name: string): {
  readonly sensor: SensorId;
  readonly position: PositionId | null;
  readonly task: string | null;
} {
  const [place = "", task = null] = name.split("/");
  const [word = "", position = null] = place.split(":");
  const sensor = SENSOR_IDS.find((each) => each === word);
  if (sensor === undefined) {
    const nearest = nearestOf(word, SENSOR_IDS);
    refuse({
      code: "unknown-id",
      message: `${JSON.stringify(word)} is no sensor`,
      ...(nearest === undefined ? { expected: "a sensor, such as forward-camera" } : { nearest }),
    });
  }
  if (position === null) return { sensor, position, task };
  if (!acceptsPosition(sensor, position as PositionId)) {
    refuse({ code: "invalid-position", message: `a ${sensor} has no position "${position}"` });
  }
  return { sensor, position: position as PositionId, task };
}

function nameOf({ procedure: { sensor, position, task } }: Found): string {
  return `${sensor}${position === null || position === undefined ? "" : `:${position}`}/${task}`;
}

function refuseMissing(name: string, ofSensor: readonly Found[], packs: readonly LoadedProcedures[]): never {
  const others = ofSensor.length > 0 ? ofSensor : listDrives(packs);
  const names = [...new Set(others.map(nameOf))].sort();
  refuse({
    code: "unknown-reference",
    message: `no procedure given asks for a drive of ${JSON.stringify(name)}`,
    expected: names.length === 0 ? "a pack with a drive window" : `one of ${names.join(", ")}`,
  });
}

function refuseSeveral(name: string, first: Found, second: Found): never {
  const both = [first, second].map(({ procedure, loaded }) => `"${procedure.id}" of ${loaded.pack.id}`);
  refuse({
    code: "procedure-conflict",
    message: `${both.join(" and ")} both ask for a drive of ${JSON.stringify(name)}`,
    expected:
      nameOf(first) === nameOf(second)
        ? "the procedures of one vehicle"
        : `${nameOf(first)} or ${nameOf(second)}`,
  });
}

function refuse(issue: Omit<Issue, "pointer">): never {
  throw new InputError("input", [{ pointer: "", ...issue }]);
}
