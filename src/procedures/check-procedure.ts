import type { Issue } from "../errors.js";
import { nearestOf } from "../errors.js";
import type { PreconditionId } from "../vocabulary/index.js";
import type { Limit, Procedure } from "./shape.js";

/**
 * The units in which the limit of a precondition can be read. A limit in another unit would stand in the plan as a
 * number that no comparison ever reads, so a pack that gives one is refused; preconditions not listed take any unit.
 */
const UNITS_OF: Readonly<Partial<Record<PreconditionId, readonly string[]>>> = {
  "battery-supported": ["V"],
  "battery-and-charging-in-order": ["V"],
  "film-thickness-in-range": ["um", "µm", "μm"],
  "tyres-correct": ["mm"],
  "tyre-pressure-set": ["kPa"],
  "load-defined": ["kg"],
  "ride-height-in-range": ["mm"],
  "alignment-in-spec": ["deg"],
  "thrust-angle-in-range": ["deg"],
  "steering-straight-ahead": ["deg"],
  "floor-level": ["mm/m", "deg"],
  "clear-area": ["mm"],
  "lighting-even": ["lx"],
  "adhesive-cured": ["h", "min"],
  "bay-temperature": ["degC"],
  "weather-and-light-suitable": ["degC"],
  "drive-route-suitable": ["km/h"],
};

/** Holds what one procedure states against itself: method and task, limits and their units, windows. */
export function checkProcedure(procedure: Procedure, pointer: string): readonly Issue[] {
  return [
    ...checkMethod(procedure, pointer),
    ...checkConditions(procedure, pointer),
    ...checkDriveWindow(procedure, pointer),
  ];
}

function checkMethod({ task, method }: Procedure, pointer: string): readonly Issue[] {
  const isCalibration = task === "calibration";
  if (!isCalibration && method !== "none") {
    return [
      {
        code: "invalid-value",
        pointer: `${pointer}/method`,
        message: `only a calibration has a method, but this is the task "${task}"`,
        expected: '"none"',
      },
    ];
  }
  if (isCalibration && (method === "none" || method === "unknown")) {
    return [
      {
        code: "invalid-value",
        pointer: `${pointer}/method`,
        message: `a calibration procedure states its method, but this says "${method}"`,
        expected: "static, dynamic, static-and-dynamic or static-or-dynamic",
      },
    ];
  }
  return [];
}

function checkConditions({ conditions = [] }: Procedure, pointer: string): readonly Issue[] {
  const first = new Map<PreconditionId, number>();
  return conditions.flatMap(({ precondition, limit }, index) => {
    const here = `${pointer}/conditions/${index}`;
    const before = first.get(precondition);
    if (before !== undefined) {
      return [
        {
          code: "duplicate-id" as const,
          pointer: `${here}/precondition`,
          message: `the procedure states "${precondition}" already at /conditions/${before}`,
          expected: "one entry, with its low and its high end",
        },
      ];
    }
    first.set(precondition, index);
    return limit === undefined ? [] : checkLimit(limit, precondition, `${here}/limit`);
  });
}

function checkLimit(limit: Limit, precondition: PreconditionId, pointer: string): readonly Issue[] {
  const { low, high, unit } = limit;
  const issues: Issue[] = [];
  if (low === undefined && high === undefined) {
    issues.push({
      code: "missing-key",
      pointer,
      message: "the limit has neither a low nor a high end",
      expected: "low, high or both",
    });
  }
  if (low !== undefined && high !== undefined && low > high) issues.push(refuseRange(low, high, pointer));
  const units = UNITS_OF[precondition];
  if (units !== undefined && !units.includes(unit)) {
    const nearest = nearestOf(unit, units);
    issues.push({
      code: "invalid-value",
      pointer: `${pointer}/unit`,
      message: `"${precondition}" is not measured in ${JSON.stringify(unit)}`,
      expected: units.join(" or "),
      ...(nearest === undefined ? {} : { nearest }),
    });
  }
  return issues;
}

function checkDriveWindow({ method, driveWindow }: Procedure, pointer: string): readonly Issue[] {
  if (driveWindow === undefined) return [];
  const here = `${pointer}/driveWindow`;
  const { low, high } = driveWindow.speed;
  return [
    ...(low > high ? [refuseRange(low, high, `${here}/speed`)] : []),
    ...(method === "static"
      ? [
          {
            code: "invalid-value" as const,
            pointer: here,
            message: "a static calibration has no drive window",
            expected: "a method with a drive, or no drive window",
          },
        ]
      : []),
  ];
}

function refuseRange(low: number, high: number, pointer: string): Issue {
  return {
    code: "out-of-range",
    pointer,
    message: `the low end ${low} lies above the high end ${high}`,
    expected: "low at most as large as high",
  };
}
