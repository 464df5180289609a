import { atan, decide, type DecisionRule } from "../measure/index.js";
import type { PreconditionId } from "../vocabulary/index.js";
import { answer, type Answer, type Missing, type SetupWarning } from "./answer.js";
import type { AskedLimit } from "./asked.js";
import type { AlignmentResult, FloorResult, SetupDecision } from "./result.js";
import type { Setup } from "./shape.js";

/** One limit of a procedure, held against what was measured in the bay, for all calibrations that it holds for. */
export interface DecidedCondition {
  readonly precondition: PreconditionId;
  readonly requirements: string[];
  readonly decision: SetupDecision;
}

interface Measured {
  readonly setup: Setup;
  readonly alignment: AlignmentResult | null;
  readonly floor: FloorResult | null;
  readonly rule: DecisionRule;
}

/** A number that a limit can be held against. */
interface Reading {
  readonly of: string;
  readonly value: number;
  readonly u: number | null;
}

/** Decides those limits of the procedures that the measurements of a set-up speak of: floor, thrust angle, ride height. */
export function decideConditions(
  limits: readonly AskedLimit[],
  measured: Measured,
): Answer<readonly DecidedCondition[]> {
  const shared = drawTogether(limits);
  const outcomes = shared.map((each) => decideLimit(each, measured));
  return answer({
    value: outcomes.flatMap(({ decided }) => decided),
    missing: outcomes.flatMap(({ missing }) => missing),
    warnings: warnOfDatum(shared, measured.setup),
  });
}

const DATUMS = { "hub-to-arch": "hub to arch", "ground-to-body": "ground to body" } as const;

/** From what a limit of the ride height counts stands in the procedure's words alone: it is for people to compare. */
function warnOfDatum(limits: readonly SharedLimit[], { rideHeight }: Setup): readonly SetupWarning[] {
  if (rideHeight === undefined) return [];
  const datum = DATUMS[rideHeight.datum];
  return limits
    .filter(({ precondition }) => precondition === "ride-height-in-range")
    .map(({ note }) => ({
      about: "/rideHeight",
      says:
        note === null
          ? `The ride height was measured ${datum}, and the procedure does not say beside its limit from what that counts: compare before the verdict counts.`
          : `The ride height was measured ${datum}. From what the procedure's limit counts, its own words have to say: "${note}"`,
    }));
}

/** A limit with every calibration that sets it alike. */
interface SharedLimit extends Omit<AskedLimit, "requirement"> {
  readonly requirements: readonly string[];
}

function drawTogether(limits: readonly AskedLimit[]): readonly SharedLimit[] {
  const shared = new Map<string, SharedLimit>();
  for (const { requirement, precondition, limit, note } of limits) {
    const key = JSON.stringify([precondition, limit.low, limit.high, limit.unit, note]);
    const { requirements = [] } = shared.get(key) ?? {};
    shared.set(key, { precondition, limit, note, requirements: [...requirements, requirement] });
  }
  return [...shared.values()];
}

interface Outcome {
  readonly decided: readonly DecidedCondition[];
  readonly missing: readonly Missing[];
}

function decideLimit(asked: SharedLimit, measured: Measured): Outcome {
  const { precondition, requirements, limit } = asked;
  const readings = readingsFor(asked, measured);
  if (readings === null) return { decided: [], missing: [] };
  if ("pointer" in readings) return { decided: [], missing: [readings] };
  const isFloor = precondition === "floor-level";
  return {
    decided: readings.map(({ of, value, u }) => ({
      precondition,
      requirements: [...requirements],
      decision: decide(
        {
          of,
          value,
          u,
          unit: unitOf(limit.unit),
          // A slope counts either way: a limit of 3 mm/m allows 3 down as well as 3 up.
          low: isFloor && limit.low === null && limit.high !== null ? -limit.high : limit.low,
          high: limit.high,
        },
        measured.rule,
      ),
    })),
    missing: [],
  };
}

function unitOf(unit: string): SetupDecision["unit"] {
  return unit === "mm/m" || unit === "deg" ? unit : "mm";
}

/** What was measured for a precondition; what is missing for it; null where a set-up does not speak of it. */
function readingsFor(
  { precondition, limit }: SharedLimit,
  { setup, alignment, floor }: Measured,
): readonly Reading[] | Missing | null {
  switch (precondition) {
    case "floor-level":
      return floor === null
        ? missing("whether the floor is level", "a floor survey", "/floor")
        : slopes(floor, limit.unit);
    case "thrust-angle-in-range": {
      const thrust = alignment?.thrust ?? null;
      if (thrust === null)
        return missing(
          "whether the thrust angle is in range",
          "the rear toes or the thrust angle",
          "/rearToe",
        );
      return [{ of: "thrust angle, right positive", value: thrust.trade, u: thrust.u }];
    }
    case "ride-height-in-range": {
      if (setup.rideHeight === undefined)
        return missing(
          "whether the ride height is in range",
          "the ride height, corner by corner",
          "/rideHeight",
        );
      const { datum, corners } = setup.rideHeight;
      return corners.map(({ axle, side, measured, specified, u }) => ({
        of: `ride height ${axle} ${side}, ${DATUMS[datum]}, measured minus specified`,
        value: measured - specified,
        u: u ?? null,
      }));
    }
    default:
      return null;
  }
}

function slopes(floor: FloorResult, unit: string): readonly Reading[] {
  const { along, across } = floor.plane;
  const inUnit = (slope: number): number => (unit === "deg" ? atan(slope / 1000) : slope);
  return [
    { of: "slope of the floor lengthwise", value: inUnit(along), u: scaled(floor.uAlong, along, inUnit) },
    { of: "slope of the floor across", value: inUnit(across), u: scaled(floor.uAcross, across, inUnit) },
  ];
}

/** The uncertainty in another unit: the difference that it makes there. */
function scaled(u: number | null, at: number, inUnit: (slope: number) => number): number | null {
  return u === null ? null : Math.abs(inUnit(at + u) - inUnit(at));
}

function missing(what: string, needs: string, pointer: string): Missing {
  return { for: what, needs, pointer };
}
