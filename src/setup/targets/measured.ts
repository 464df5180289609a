import { degrees, formatLength, formatNumber, formula, mm, type Working } from "../../measure/index.js";
import { answer, type Answer, type Contradiction, type Missing, type SetupWarning } from "../answer.js";
import { listSets } from "./check-targets.js";
import type { Part } from "../floor/spread.js";
import { fitTapes, listReadings, type TapeFit } from "./fit-tapes.js";
import type { Bar } from "./place.js";
import type { TargetResult } from "../result.js";
import type { AskedTarget, Scene } from "../scene.js";
import type { Setup, SetupTarget } from "../shape.js";
import { bringFromMarks } from "./from-marks.js";
import { poseOnLine, type TapedPose, type TapeFrame } from "./tape-pose.js";
import { wheelsOf } from "./tapes.js";

/** In the order in which they are put right: the height is set last. Common practice, no source. */
export const QUANTITIES = ["lateral", "distance", "yaw", "pitch", "roll", "height"] as const;
export type TargetQuantity = (typeof QUANTITIES)[number];

export type MeasuredPose = NonNullable<TargetResult["measured"]>;
type Fit = MeasuredPose["fit"];
type Value = MeasuredPose[TargetQuantity];

/** What was found of a target, and which of it no correction can rest on. */
export interface MeasuredTarget {
  readonly pose: MeasuredPose;
  readonly doubtful: readonly TargetQuantity[];
  /** Of what the uncertainty of each quantity is made, where it has more than one cause. */
  readonly parts: Partial<Readonly<Record<TargetQuantity, readonly Part[]>>>;
}

/** Where a target should stand, as its tapes need it. */
export interface TargetGeometry extends TapeFrame {
  readonly bar: Bar | null;
}

export const standardLength = formula({
  id: "standard-uncertainty-length",
  gives: "standard uncertainty of a length",
  text: "U / k",
  inputs: { U: "mm", k: "1" },
  result: "mm",
  compute: ({ U, k }) => U / k,
});

export const standardAngle = formula({
  id: "standard-uncertainty-angle",
  gives: "standard uncertainty of an angle",
  text: "U / k",
  inputs: { U: "deg", k: "1" },
  result: "deg",
  compute: ({ U, k }) => U / k,
});

export const FORMULAS = [standardLength, standardAngle] as const;

/** How far two values of one thing may lie apart, in standard uncertainties of their difference. */
const COMPATIBLE = 3;
/** Tapes without a stated uncertainty are read worse than this only by mistake; mm. Our judgement. */
const LARGE_SCATTER = 5;
const TAPED = ["lateral", "distance", "yaw"] as const satisfies readonly TargetQuantity[];

/** Whether a quantity of a target is a length; the others are angles. */
export function isLength(quantity: TargetQuantity): boolean {
  return quantity === "lateral" || quantity === "distance" || quantity === "height";
}

/**
 * Gathers what was measured of a target: what its tapes give, and what is stated. Of a quantity that both give, the tapes
 * count where both agree; where they do not, it is a contradiction and the quantity stays unknown.
 */
export function measureTarget(
  { placing, stated }: AskedTarget,
  label: string,
  { setup, scene }: { readonly setup: Setup; readonly scene: Scene },
  geometry: TargetGeometry | null,
): Answer<MeasuredTarget> {
  if (stated?.target.measured === undefined) return answer({});
  const own = bringFromMarks(
    readStated(stated.target, placing.yaw.nominal, label),
    { placing, stated },
    label,
    { setup, scene, geometry },
  );
  const taped = readTapes(stated.target, stated.pointer, { label, scene, geometry });
  const merged = QUANTITIES.map((quantity) =>
    merge(quantity, own.pose[quantity] ?? null, tapedValue(taped, quantity), {
      tolerance: placing[quantity].tolerance,
      pointer: `${stated.pointer}/measured`,
      label,
    }),
  );
  const values = Object.fromEntries(
    QUANTITIES.map((quantity, index) => [quantity, merged[index]?.value ?? null]),
  ) as Record<TargetQuantity, Value>;
  const isMeasured =
    taped.fit !== null || merged.some(({ value, conflict }) => value !== null || conflict !== null);
  const parts = { ...own.parts, ...partsOf(taped.pose) };
  return answer<MeasuredTarget>({
    value: isMeasured ? { pose: { ...values, fit: taped.fit }, doubtful: taped.doubtful, parts } : null,
    workings: [...own.workings, ...(taped.pose?.workings ?? [])],
    missing: [...own.missing, ...taped.missing],
    contradictions: merged.flatMap(({ conflict }) => (conflict === null ? [] : [conflict])),
    warnings: [...own.warnings, ...taped.warnings],
  });
}

function partsOf(pose: TapedPose | null): MeasuredTarget["parts"] {
  if (pose === null) return {};
  return { lateral: pose.lateral.parts, distance: pose.distance.parts, yaw: pose.yaw.parts };
}

function readStated({ measured = {}, U = {}, k }: SetupTarget, nominalYaw: number, label: string) {
  const workings: Working[] = [];
  const pose: Partial<Record<TargetQuantity, NonNullable<Value>>> = {};
  for (const quantity of QUANTITIES) {
    const value = measured[quantity];
    if (value === undefined) continue;
    const expanded = U[quantity];
    const u = expanded === undefined || k === undefined ? null : workStandard(quantity, expanded, k, label);
    if (u !== null) workings.push(u);
    // −179.8° and 180.2° are one direction: the turn nearest to the nominal is meant.
    const turns = quantity === "yaw" ? Math.round((nominalYaw - value) / 360) : 0;
    pose[quantity] = { value: value + 360 * turns, u: u?.value ?? null };
  }
  return { pose, workings };
}

function workStandard(quantity: TargetQuantity, U: number, k: number, label: string): Working {
  const gives = `${label}: standard uncertainty, ${quantity} as stated`;
  return isLength(quantity)
    ? standardLength.work({ U: mm(U), k }, gives)
    : standardAngle.work({ U: degrees(U), k }, gives);
}

interface Taped {
  readonly pose: TapedPose | null;
  readonly fit: Fit;
  readonly doubtful: readonly TargetQuantity[];
  readonly missing: readonly Missing[];
  readonly warnings: readonly SetupWarning[];
}

interface TapeContext {
  readonly label: string;
  readonly scene: Scene;
  readonly geometry: TargetGeometry | null;
}

const NOTHING_TAPED: Taped = { pose: null, fit: null, doubtful: [], missing: [], warnings: [] };

function readTapes(target: SetupTarget, pointer: string, { label, scene, geometry }: TapeContext): Taped {
  const sets = listSets(target, pointer);
  // What keeps a target from being placed is named with its place.
  if (sets.length === 0 || geometry === null) return NOTHING_TAPED;
  const what = `where ${label} stands by its tapes`;
  if (geometry.bar === null) {
    const needs = "the width of the bar, from end to end, where the tape is held";
    return { ...NOTHING_TAPED, missing: [{ for: what, needs, pointer: `${pointer}/barWidth` }] };
  }
  const wheelless = sets
    .filter(({ set }) => wheelsOf(scene.wheels, set.from) === null)
    .map(({ set }) => ({
      for: what,
      needs: `the wheel centres, or wheelbase and tracks, for the tapes from the ${set.from.replace("-", " ")}`,
      pointer: "/wheelCentres",
    }));
  const readings = listReadings(
    sets.map(({ set }) => set),
    scene.wheels,
  );
  const fit = fitTapes(readings, geometry.bar, {
    wheels: scene.wheels ?? [],
    origin: geometry.datum.away === 1 ? "front" : "rear",
  });
  const names = readings.map(({ name }) => name).join("; ");
  const problem = describeProblem(fit, { what, names, label, pointer: `${pointer}/measured/tapes` });
  const missing = [...wheelless, ...problem.missing];
  if (fit.kind !== "found") return { ...NOTHING_TAPED, missing, warnings: problem.warnings };
  const isDoubtful = fit.quality.agree === false || (fit.variance === null && scatterOf(fit) > LARGE_SCATTER);
  return {
    pose: poseOnLine(fit.bar, isDoubtful ? null : fit.variance, geometry, label),
    fit: fit.quality,
    doubtful: isDoubtful ? TAPED : [],
    missing: [...missing, ...missUncertainty(fit, sets, geometry, label)],
    warnings: isDoubtful ? [{ about: label, says: sayDisagreement(fit) }] : [],
  };
}

type FoundFit = Extract<TapeFit, { kind: "found" }>;

function describeProblem(
  fit: TapeFit,
  { what, names, label, pointer }: Record<"what" | "names" | "label" | "pointer", string>,
): Pick<Taped, "missing" | "warnings"> {
  const warn = (says: string) => ({ missing: [], warnings: [{ about: label, says }] });
  switch (fit.kind) {
    case "found":
      return { missing: [], warnings: [] };
    case "too-few": {
      const needs = "three tapes or more: both straight ones and both diagonals are best";
      return { missing: [{ for: what, needs, pointer }], warnings: [] };
    }
    case "undetermined":
      return warn(
        `The tapes leave the bar free to move (${names}): add one that crosses, or those from the other axle.`,
      );
    case "impossible":
      return warn(`No place of the bar fits the tapes (${names}): measure them again.`);
  }
}

function missUncertainty(
  fit: FoundFit,
  sets: ReturnType<typeof listSets>,
  { line }: TargetGeometry,
  label: string,
): readonly Missing[] {
  if (fit.variance === null) {
    const pointer = sets.find(({ set }) => set.u === undefined)?.pointer ?? "";
    const needs = "the standard uncertainty of one reading (u)";
    return [{ for: `how well the place of ${label} is known`, needs, pointer: `${pointer}/u` }];
  }
  if (line.uHeading !== null) return [];
  const needs = "the standard uncertainty of the thrust line (u)";
  return [
    { for: `how well lateral place and yaw of ${label} are known`, needs, pointer: line.headingPointer },
  ];
}

function worstOf({ quality }: FoundFit): number {
  return Math.max(...quality.residuals.map(({ residual }) => Math.abs(residual)));
}

/** The standard deviation of one reading by the residuals; nothing where no reading is to spare. */
function scatterOf({ quality }: FoundFit): number {
  const squares = quality.residuals.reduce((sum, { residual }) => sum + residual ** 2, 0);
  return Math.sqrt(squares / Math.max(1, quality.degreesOfFreedom));
}

function sayDisagreement(fit: FoundFit): string {
  const { residuals, chiSquared, limit } = fit.quality;
  const worst = worstOf(fit);
  const where = residuals.find(({ residual }) => Math.abs(residual) === worst)?.reading ?? "";
  const test =
    chiSquared === null || limit === null
      ? ""
      : `; chi-squared ${formatNumber(chiSquared, 1)}, expected below ${formatNumber(limit, 1)}`;
  const by = formatLength(mm(worst), "mm", "computed");
  return `The readings disagree among themselves by up to ${by} (${where}${test}): measure again before correcting.`;
}

function tapedValue({ pose }: Taped, quantity: TargetQuantity): Value {
  switch (quantity) {
    case "distance":
    case "lateral":
    case "yaw":
      return pose === null ? null : { value: pose[quantity].value, u: pose[quantity].u };
    case "height":
    case "pitch":
    case "roll":
      return null;
  }
}

function merge(
  quantity: TargetQuantity,
  own: Value,
  taped: Value,
  { tolerance, pointer, label }: { tolerance: number; pointer: string; label: string },
): { readonly value: Value; readonly conflict: Contradiction | null } {
  if (own === null || taped === null) return { value: taped ?? own, conflict: null };
  // Without an uncertainty of both, the tolerance is what tells one place from another.
  const room = own.u === null || taped.u === null ? tolerance : COMPATIBLE * Math.hypot(own.u, taped.u);
  if (Math.abs(own.value - taped.value) <= room) return { value: taped, conflict: null };
  const unit = isLength(quantity) ? " mm" : "°";
  const [one, other] = [own.value, taped.value].map((value) => `${formatNumber(value, 2)}${unit}`);
  const conflict = {
    about: [`${pointer}/${quantity}`, `${pointer}/tapes`],
    says: `${quantity} of ${label} is stated as ${one}, and the tapes give ${other}: neither is used.`,
  };
  return { value: null, conflict };
}
