import type { Plan, PlanReason, Requirement } from "../plan/index.js";
import { METHODS, STANDING_IDS, capital, type Standing } from "../vocabulary/index.js";
import type { Material } from "./page.js";
import { tellLength, type LengthUnits } from "./units.js";
import { nameOfSource, nameOfWork } from "./words.js";

type PlanHold = Requirement["holds"][number];

/** One hold with all the requirements that it keeps back. */
export interface SharedHold {
  readonly name: string;
  readonly hold: PlanHold;
  readonly requirements: readonly string[];
}

/** The holds of a plan, each once, by what they say and what brought them. */
export function holdsOf(plan: Plan): ReadonlyMap<string, SharedHold> {
  const holds = new Map<string, SharedHold>();
  for (const requirement of plan.requirements) {
    for (const hold of requirement.holds) {
      const key = keyOfHold(hold);
      const before = holds.get(key);
      holds.set(key, {
        name: before?.name ?? `H${holds.size + 1}`,
        hold,
        requirements: [...(before?.requirements ?? []), requirement.id],
      });
    }
  }
  return holds;
}

/** The same for holds that say the same for the same reason. */
export function keyOfHold({ id, rule, operation, finding, says, clearedBy }: PlanHold): string {
  return JSON.stringify([id, rule, operation, finding, says, clearedBy]);
}

/** The heading of a standing; "calibrate" only where nothing but calibrations stands under it. */
export function headingOf(standing: Standing, requirements: readonly Requirement[]): string {
  const areCalibrations = requirements.every(({ task }) => task === "calibration");
  const doIt = areCalibrations ? "Calibrate" : "Carry out";
  switch (standing) {
    case "required":
      return `${doIt}: required`;
    case "presumed":
      return `${doIt} unless the maker's procedure says otherwise: presumed`;
    case "inspect-first":
      return `Inspect first, ${doIt.toLowerCase()} if it fails`;
    case "undetermined":
      return "Not decided: it hangs on open questions";
  }
}

/** How a calibration is done, as far as that is known; null for other tasks. */
export function tellMethod({ task, method }: Requirement): string | null {
  if (task !== "calibration") return null;
  if (method.value === "unknown") {
    const usual =
      method.usual === null || method.usual === "none" || method.usual === "unknown"
        ? ""
        : ` Usual on such sensors: ${METHODS[method.usual].label}.`;
    return `The maker's procedure decides; none was given.${usual}`;
  }
  const source = method.source === null ? "" : ` (${nameOfSource(method.source)})`;
  return `${capital(METHODS[method.value].label)}${source}`;
}

type PlanProcedure = NonNullable<Requirement["procedure"]>;
type PlanTarget = PlanProcedure["targets"][number];

/** Where a target stands, as the procedure has it; its name is told apart, since it may be in any script. */
export function tellPlace(target: PlanTarget, units: LengthUnits): string {
  const { distance, lateral, height } = target;
  const line = target.referenceLine === "thrust-line" ? "thrust line" : "geometric centre line";
  const aside =
    lateral.nominal === 0
      ? `on it ±${tellLength(lateral.tolerance, null, units)}`
      : `${tellLength(Math.abs(lateral.nominal), lateral.tolerance, units)} ${lateral.nominal > 0 ? "left" : "right"} of it`;
  const turns = (["yaw", "pitch", "roll"] as const).map(
    (each) => `${each} ${target[each].nominal} ±${target[each].tolerance}°`,
  );
  return [
    `${tellLength(distance.nominal, distance.tolerance, units)} from the ${target.datum.replaceAll("-", " ")} along the ${line}`,
    aside,
    `its centre ${tellLength(height.nominal, height.tolerance, units)} above the floor`,
    ...turns,
  ].join(", ");
}

/** The free floor that a procedure asks for. */
export function tellClearArea(area: NonNullable<PlanProcedure["clearArea"]>, units: LengthUnits): string {
  const height = area.height === undefined ? "" : `, ${tellLength(area.height, null, units)} high`;
  return `${tellLength(area.length, null, units)} long, ${tellLength(area.width, null, units)} wide${height}, from the ${area.datum.replaceAll("-", " ")}`;
}

const LANE_MARKINGS = {
  "both-sides": "lane markings on both sides",
  "one-side": "lane markings on one side",
  "not-needed": "no lane markings needed",
} as const;

/** The drive that a dynamic calibration asks for. */
export function tellDrive(drive: NonNullable<PlanProcedure["driveWindow"]>): string {
  const { speed, minutes, distance, roads, laneMarkings, weather } = drive;
  return [
    `${speed.low} to ${speed.high} ${speed.unit}`,
    ...(minutes === undefined ? [] : [`${minutes} min`]),
    ...(distance === undefined ? [] : [`${distance.value} ${distance.unit}`]),
    ...(roads === undefined ? [] : [`roads: ${roads.join(", ")}`]),
    ...(laneMarkings === undefined ? [] : [LANE_MARKINGS[laneMarkings]]),
    ...(weather === undefined ? [] : [weather]),
  ].join("; ");
}

/** Implied work of a plan by its id, in words. */
export function nameOfImplied(page: Material, id: string): string {
  const implied = page.plan.impliedOperations.find((each) => each.id === id);
  return implied === undefined ? "implied work" : `${nameOfWork(implied)} (implied)`;
}

/** Of the firmest reasons the one with the fewest implied operations; reasons come sorted, so the first wins a tie. */
export function shortestReason(reasons: readonly PlanReason[]): PlanReason | undefined {
  const certain = reasons.filter((reason) => reason.certain);
  const candidates = certain.length > 0 ? certain : reasons;
  const firmest = STANDING_IDS.find((standing) => candidates.some((reason) => reason.standing === standing));
  return candidates
    .filter((reason) => reason.standing === firmest)
    .reduce<PlanReason | undefined>(
      (best, reason) => (best === undefined || reason.implied.length < best.implied.length ? reason : best),
      undefined,
    );
}
