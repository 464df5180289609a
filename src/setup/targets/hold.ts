import {
  degrees,
  formatLength,
  formatNumber,
  formula,
  mm,
  type DecisionRule,
  type Working,
} from "../../measure/index.js";
import type { Missing } from "../answer.js";
import type { Part } from "../floor/spread.js";
import type { TargetResult } from "../result.js";
import type { AskedTarget } from "../scene.js";
import { correctTarget, decideTarget, type Stance, type Wanted } from "./corrections.js";
import { QUANTITIES, type MeasuredTarget, type TargetQuantity } from "./measured.js";
import type { Known, Stand } from "./stand.js";

export const wholeLength = formula({
  id: "whole-uncertainty-length",
  gives: "standard uncertainty of a length, with that of what it is held against",
  text: "sqrt(uRead^2 + uHeld^2)",
  inputs: { uRead: "mm", uHeld: "mm" },
  result: "mm",
  compute: ({ uRead, uHeld }) => Math.hypot(uRead, uHeld),
});

export const wholeAngle = formula({
  id: "whole-uncertainty-angle",
  gives: "standard uncertainty of an angle, with that of what it is held against",
  text: "sqrt(uRead^2 + uHeld^2)",
  inputs: { uRead: "deg", uHeld: "deg" },
  result: "deg",
  compute: ({ uRead, uHeld }) => Math.hypot(uRead, uHeld),
});

export const shareOfVariance = formula({
  id: "share-of-variance",
  gives: "share of one cause in the variance, in per cent",
  text: "100 * (part / whole)^2",
  inputs: { part: "1", whole: "1" },
  result: "1",
  compute: ({ part, whole }) => 100 * (part / whole) ** 2,
});

export const FORMULAS = [wholeLength, wholeAngle, shareOfVariance] as const;

type Decisions = TargetResult["decisions"];
type Tilt = "pitch" | "roll";
const TILTS = ["pitch", "roll"] as const satisfies readonly Tilt[];

/** What is held against a placing, and with which words. */
interface Held {
  readonly measured: MeasuredTarget;
  readonly wanted: Wanted;
  /** What a verdict presumes, or what its uncertainty has in it. */
  readonly remarks: Partial<Record<TargetQuantity, string>>;
  /** Why nothing can be decided of a quantity, nor corrected. */
  readonly open: Partial<Record<TargetQuantity, string>>;
  readonly workings: readonly Working[];
  readonly missing: readonly Missing[];
}

interface Given {
  readonly asked: AskedTarget;
  readonly stand: Stand | null;
  readonly stance: Stance | null;
  readonly label: string;
  readonly rule: DecisionRule;
  /** The wheel centres from which the tapes start: with or without uncertainties, or as the dimensions have them. */
  readonly wheels: "known" | "without-uncertainty" | "not-measured";
}

/** What to do about a target, and what can be decided of it. */
export interface HeldTarget {
  readonly corrections: TargetResult["corrections"];
  readonly decisions: Decisions;
  readonly workings: readonly Working[];
  readonly missing: readonly Missing[];
}

/**
 * Holds what was measured of a target against its placing: a height against that above the floor there, pitch and roll
 * against the plumb line where they were read from it. What the floor and the wheels leave uncertain counts with the
 * reading. A verdict that presumes something nobody measured says so.
 */
export function holdTarget(found: MeasuredTarget, given: Given): HeldTarget {
  const { asked, stance, label, rule } = given;
  const steps = [holdHeight, holdTilts, holdTapes, holdLean, holdBothWays];
  const held = steps.reduce((so, step) => step(so, given), startOf(found, asked));
  const doubtful = [...held.measured.doubtful, ...QUANTITIES.filter((each) => held.open[each] !== undefined)];
  const corrected = correctTarget({ ...held.measured, doubtful }, held.wanted, stance, label);
  const decisions = decideTarget(held.measured, held.wanted, label, rule);
  const said = decisions.map((each) => addWords(leaveOpen(each, held.open[each.quantity]), held, label));
  return {
    corrections: [...corrected.corrections],
    decisions: said.map(({ decision }) => decision),
    workings: [...held.workings, ...corrected.workings, ...said.flatMap(({ workings }) => workings)],
    missing: held.missing,
  };
}

function startOf(measured: MeasuredTarget, { placing }: AskedTarget): Held {
  const { distance, lateral, height, yaw, pitch, roll } = placing;
  const wanted = { distance, lateral, height, yaw, pitch, roll };
  return { measured, wanted, remarks: {}, open: {}, workings: [], missing: [] };
}

function holdHeight(held: Held, { stand, label }: Given): Held {
  if (held.measured.pose.height === null) return held;
  const there = stand?.height ?? null;
  if (there === null) {
    return remark(
      held,
      "height",
      "It presumes a floor in one plane with the wheels, which was not surveyed.",
    );
  }
  return against(held, "height", there, label);
}

function holdTilts(held: Held, given: Given): Held {
  return TILTS.reduce((so, tilt) => holdTilt(so, tilt, given), held);
}

function holdTilt(held: Held, tilt: Tilt, { asked, stand, label }: Given): Held {
  if (held.measured.pose[tilt] === null) return held;
  const counts = asked.stated?.target.measured?.countsFrom?.tilt;
  const level = stand?.level ?? null;
  if (counts === "wheels") return held;
  if (counts === undefined) {
    const words = "It presumes a reading against the plane of the wheels, or wheels that stand level.";
    return level === null ? remark(held, tilt, words) : held;
  }
  if (level !== null) return against(held, tilt, level[tilt], label);
  const needs =
    "a floor survey with the heights under all four wheels: a spirit level knows only the plumb line";
  return {
    ...held,
    open: {
      ...held.open,
      [tilt]:
        "It was read from the plumb line, and how the wheels stand to that is not known: cannot be decided.",
    },
    missing: [...held.missing, { for: `${tilt} of ${label} against the wheels`, needs, pointer: "/floor" }],
  };
}

/** Tapes from wheels of unknown uncertainty are reckoned as if these were exact. */
function holdTapes(held: Held, { wheels, label }: Given): Held {
  if (held.measured.pose.fit === null || wheels === "known") return held;
  const words = "The wheel centres count as exact in it, since their uncertainty is not stated.";
  const said = (["lateral", "distance", "yaw"] as const).reduce((so, each) => remark(so, each, words), held);
  if (wheels === "not-measured") return said;
  const what = `how well the place of ${label} is known`;
  const needs = "the standard uncertainties of the wheel centres (u)";
  return { ...said, missing: [...held.missing, { for: what, needs, pointer: "/wheelCentres" }] };
}

/** From this share of a tolerance on, what the lean of the wheels moves is worth a word. Our judgement. */
const WORTH_A_WORD = 0.25;

/** Places count at the floor: a plumb line from the middle of the target meets it, and leans against the vehicle. */
function holdLean(held: Held, { stand }: Given): Held {
  const lean = stand?.lean ?? null;
  if (lean === null) return held;
  const moved = { lateral: lean.left, distance: lean.forwards };
  const ways = { lateral: ["left", "right"], distance: ["forwards", "backwards"] } as const;
  return (["lateral", "distance"] as const).reduce((so, quantity) => {
    const by = moved[quantity];
    if (Math.abs(by) < WORTH_A_WORD * held.wanted[quantity].tolerance || Math.abs(by) < 0.05) return so;
    const size = formatLength(mm(Math.abs(by)), "mm", "computed");
    const words = `It counts at the floor: at its middle the lean of the wheels' plane comes to ${size} ${ways[quantity][by > 0 ? 0 : 1]}.`;
    return remark(so, quantity, words);
  }, held);
}

function remark(held: Held, quantity: TargetQuantity, words: string): Held {
  const before = held.remarks[quantity];
  const all = before === undefined ? words : `${before} ${words}`;
  return { ...held, remarks: { ...held.remarks, [quantity]: all } };
}

/** Holds a quantity against a number that is itself uncertain. */
function against(held: Held, quantity: "height" | Tilt, { value, u, parts }: Known, label: string): Held {
  const { pose } = held.measured;
  const found = pose[quantity];
  if (found === null) return held;
  const wanted = { ...held.wanted, [quantity]: { ...held.wanted[quantity], nominal: value } };
  if (u === null || found.u === null) {
    const unknown = { ...pose, [quantity]: { ...found, u: null } };
    return { ...held, wanted, measured: { ...held.measured, pose: unknown } };
  }
  const whole = workWhole(quantity, found.u, u, label);
  const withWhole = { ...pose, [quantity]: { value: found.value, u: whole.value } };
  const all = { ...held.measured.parts, [quantity]: [{ of: "the reading", u: found.u }, ...parts] };
  const words = `That uncertainty is of the reading and of ${quantity === "height" ? "floor and wheels" : "the heights under the wheels"} together.`;
  return {
    ...remark(held, quantity, words),
    wanted,
    measured: { ...held.measured, pose: withWhole, parts: all },
    workings: [...held.workings, whole],
  };
}

function workWhole(quantity: "height" | Tilt, uRead: number, uHeld: number, label: string): Working {
  const gives = `${label}: standard uncertainty, ${quantity}, with that of ${quantity === "height" ? "floor and wheels" : "the wheels"}`;
  return quantity === "height"
    ? wholeLength.work({ uRead: mm(uRead), uHeld: mm(uHeld) }, gives)
    : wholeAngle.work({ uRead: degrees(uRead), uHeld: degrees(uHeld) }, gives);
}

/**
 * Where the wheels stand tilted and nobody says from what pitch and roll were read, a verdict holds only if it is the
 * same either way.
 */
function holdBothWays(held: Held, { asked, stand, label, rule }: Given): Held {
  const level = stand?.level ?? null;
  const isSaid = asked.stated?.target.measured?.countsFrom?.tilt !== undefined;
  if (level === null || !level.isTilted || isSaid) return held;
  const plumb = TILTS.reduce((so, tilt) => against(so, tilt, level[tilt], label), held);
  const [one, other] = [held, plumb].map(({ measured, wanted }) =>
    decideTarget(measured, wanted, label, rule, TILTS),
  );
  const unclear = TILTS.filter((tilt) => {
    const [first, second] = [one, other].map(
      (all) => all?.find(({ quantity }) => quantity === tilt)?.verdict,
    );
    return first !== second;
  });
  const open = Object.fromEntries(unclear.map((tilt) => [tilt, EITHER_WAY]));
  return { ...held, open: { ...held.open, ...open } };
}

const EITHER_WAY =
  "The wheels do not stand level, and whether this was read from the plumb line or from the plane of the wheels decides: cannot be decided before countsFrom says which.";

function leaveOpen(decision: Decisions[number], says: string | undefined): Decisions[number] {
  if (says === undefined) return decision;
  return { ...decision, verdict: "cannot-be-decided", probability: null, largestU: null, says };
}

/** Below this share no cause is worth naming: none of them is most of it. */
const MOST = 50;

function addWords(
  decision: Decisions[number],
  { measured, remarks }: Held,
  label: string,
): { readonly decision: Decisions[number]; readonly workings: readonly Working[] } {
  const { quantity, verdict, u, largestU } = decision;
  const isShort = verdict === "cannot-be-decided" && largestU !== null && u !== null;
  const main = isShort ? findMain(measured.parts[quantity] ?? [], u, `${label}: ${quantity}`) : null;
  const words = [decision.says, remarks[quantity], main?.says].filter((each) => each !== undefined);
  return {
    decision: { ...decision, says: words.join(" ") },
    workings: main === null ? [] : [main.working],
  };
}

function findMain(
  parts: readonly Part[],
  u: number,
  what: string,
): { readonly says: string; readonly working: Working } | null {
  const [first, ...others] = parts;
  if (first === undefined || u === 0) return null;
  const main = others.reduce((so, each) => (each.u > so.u ? each : so), first);
  const working = shareOfVariance.work(
    { part: main.u, whole: u },
    `${what}: share of ${main.of}, in per cent`,
  );
  if (working.value < MOST) return null;
  const share = formatNumber(working.value, 0);
  return { says: `Most of the uncertainty comes from ${main.of} (${share} % of the variance).`, working };
}
