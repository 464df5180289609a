import type { Issue } from "../../errors.js";
import {
  atan,
  atan2,
  degrees,
  formula,
  mm,
  type Degrees,
  type Millimetres,
  type Working,
} from "../../measure/index.js";
import { answer, type Answer, type Missing } from "../answer.js";
import { answerScene } from "./frame.js";
import type { CentreLineResult, TargetResult } from "../result.js";
import type { Point, Scene } from "../scene.js";
import type { Setup } from "../shape.js";

type Marks = NonNullable<Setup["marks"]>;
type ToVehicle = NonNullable<Scene["toVehicle"]>;
type AtTarget = CentreLineResult["atTargets"][number];

export const lengthBetweenMarks = formula({
  id: "length-between-marks",
  gives: "distance between the marks",
  text: "sqrt((xFront - xRear)^2 + (yFront - yRear)^2)",
  inputs: { xFront: "mm", yFront: "mm", xRear: "mm", yRear: "mm" },
  result: "mm",
  compute: ({ xFront, yFront, xRear, yRear }) => Math.hypot(xFront - xRear, yFront - yRear),
});

export const lengthAlongVehicle = formula({
  id: "length-along-vehicle",
  gives: "distance between the marks, along the vehicle",
  text: "xFront - xRear",
  inputs: { xFront: "mm", xRear: "mm" },
  result: "mm",
  compute: ({ xFront, xRear }) => xFront - xRear,
});

export const yawOfMarks = formula({
  id: "yaw-of-marks",
  gives: "yaw of the line through the marks against the centre line, counter-clockwise positive",
  text: "atan2(yFront - yRear, xFront - xRear)",
  inputs: { xFront: "mm", yFront: "mm", xRear: "mm", yRear: "mm" },
  result: "deg",
  compute: ({ xFront, yFront, xRear, yRear }) => atan2(yFront - yRear, xFront - xRear),
});

export const uncertaintyOfYaw = formula({
  id: "uncertainty-of-yaw-of-marks",
  gives: "standard uncertainty of the yaw of the line through the marks",
  text: "atan(sqrt(uFront^2 + uRear^2) / length)",
  inputs: { uFront: "mm", uRear: "mm", length: "mm" },
  result: "deg",
  compute: ({ uFront, uRear, length }) => atan(Math.hypot(uFront, uRear) / length),
});

export const beyondFrontMark = formula({
  id: "beyond-front-mark",
  gives: "distance from the front mark to the target along the line, forward positive",
  text: "((x - xFront) * (xFront - xRear) + (y - yFront) * (yFront - yRear)) / length",
  inputs: { x: "mm", y: "mm", xFront: "mm", yFront: "mm", xRear: "mm", yRear: "mm", length: "mm" },
  result: "mm",
  compute: ({ x, y, xFront, yFront, xRear, yRear, length }) =>
    ((x - xFront) * (xFront - xRear) + (y - yFront) * (yFront - yRear)) / length,
});

export const aheadOfFrontMark = formula({
  id: "ahead-of-front-mark",
  gives: "distance from the front mark to the target along the vehicle, forward positive",
  text: "x - xFront",
  inputs: { x: "mm", xFront: "mm" },
  result: "mm",
  compute: ({ x, xFront }) => x - xFront,
});

export const lateralOfLine = formula({
  id: "lateral-of-line",
  gives: "place of the line through the marks to the left of the centre line, at the target",
  text: "yFront + beyond * (yFront - yRear) / length",
  inputs: { yFront: "mm", yRear: "mm", beyond: "mm", length: "mm" },
  result: "mm",
  compute: ({ yFront, yRear, beyond, length }) => yFront + (beyond * (yFront - yRear)) / length,
});

/**
 * Law of propagation (JCGM 100, 5.1.2) over yFront + (yFront − yRear)·beyond/length. It holds behind the rear mark too,
 * where `beyond` is less than −length and the parts of the two marks change places.
 */
export const uncertaintyOfLine = formula({
  id: "uncertainty-of-line",
  gives: "standard uncertainty of the place of the line at the target",
  text: "sqrt(((1 + beyond / length) * uFront)^2 + (beyond / length * uRear)^2 + uLine^2 + uTape^2)",
  inputs: { beyond: "mm", length: "mm", uFront: "mm", uRear: "mm", uLine: "mm", uTape: "mm" },
  result: "mm",
  compute: ({ beyond, length, uFront, uRear, uLine, uTape }) =>
    Math.hypot((1 + beyond / length) * uFront, (beyond / length) * uRear, uLine, uTape),
});

export const FORMULAS = [
  lengthBetweenMarks,
  lengthAlongVehicle,
  yawOfMarks,
  uncertaintyOfYaw,
  beyondFrontMark,
  aheadOfFrontMark,
  lateralOfLine,
  uncertaintyOfLine,
] as const;

/** Two marks nearer than this make no line; mm. */
const SAME_PLACE = 1;

/** The ends of a line through two marks: with both places, or along the vehicle alone. */
type Line =
  | {
      readonly known: "places";
      readonly ends: ReturnType<typeof endsOf>;
      readonly length: Millimetres;
      readonly yaw: Degrees;
    }
  | { readonly known: "x"; readonly xFront: Millimetres; readonly length: Millimetres };

/**
 * Works out how far the line through a front and a rear mark lies off the centre line at each target, and with which
 * standard uncertainty. That of a target stays unknown unless the line's projection and the tape have theirs stated.
 * Marks without their y give the uncertainties alone. Lengths mm, angles degrees; targets in the vehicle's axes.
 */
export function answerCentreLine(
  setup: Setup,
  scene: Scene,
  targets: readonly TargetResult[],
): Answer<CentreLineResult> {
  const { marks } = setup;
  if (marks === undefined) return answer({});
  if (scene.toVehicle === null) return answer({ missing: [NO_TIE] });
  const placed = drawLine(marks, scene.toVehicle);
  if (placed === null) return answer({ missing: [NO_LINE] });
  const { line, workings } = placed;
  const u = { uFront: mm(marks.uFront), uRear: mm(marks.uRear), length: line.length };
  const standing = targets.flatMap(({ key, name, stands }) =>
    stands === null ? [] : [meetTarget({ key, name, x: mm(stands.x), y: mm(stands.y) }, line, marks)],
  );
  return answer({
    value: {
      length: line.length,
      yaw: line.known === "places" ? line.yaw : null,
      uYaw: uncertaintyOfYaw(u),
      atTargets: standing.map(({ at }) => at),
    },
    workings: [...workings, uncertaintyOfYaw.work(u), ...standing.flatMap((each) => each.workings)],
    missing: missingUncertainties(marks, standing.length),
  });
}

/** The line through the marks where a target stands, in the vehicle's axes, with its own uncertainty and no tape's. */
export interface LaidLine {
  readonly lateral: Millimetres;
  readonly yaw: Degrees;
  /** Null where that of the line's projection is not stated. */
  readonly u: Millimetres | null;
  readonly uYaw: Degrees;
  readonly workings: readonly Working[];
}

/**
 * Finds the line through the marks beside a place. Marks without their y are laid on the centre line: how far they lie
 * off it is what their uncertainties say. Null without marks that make a line.
 */
export function findLineAt({ marks }: Setup, scene: Scene, at: Point, name: string): LaidLine | null {
  if (marks === undefined || scene.toVehicle === null) return null;
  const line = drawLine(marks, scene.toVehicle)?.line ?? null;
  if (line === null) return null;
  const tapeless = { ...marks, uTape: undefined };
  const { at: found } = meetTarget({ ...at, key: name, name }, line, tapeless);
  const u = { uFront: mm(marks.uFront), uRear: mm(marks.uRear), length: line.length };
  const working =
    marks.uLine === undefined
      ? null
      : uncertaintyOfLine.work(
          { ...u, beyond: mm(found.beyond), uLine: mm(marks.uLine), uTape: mm(0) },
          `${name}: standard uncertainty of the line through the marks, without a tape`,
        );
  return {
    lateral: mm(found.lateral ?? 0),
    yaw: line.known === "places" ? line.yaw : degrees(0),
    u: working === null ? null : mm(working.value),
    uYaw: uncertaintyOfYaw(u),
    workings: working === null ? [] : [working],
  };
}

const NO_TIE: Missing = {
  for: "the line through the marks",
  needs: "the four wheel centres, which tie the vehicle to the axes on the floor",
  pointer: "/wheelCentres",
};
const NO_LINE: Missing = {
  for: "the line through the marks",
  needs: "a front mark that lies ahead of the rear mark",
  pointer: "/marks/front",
};

function missingUncertainties(marks: Marks, targets: number): readonly Missing[] {
  if (targets === 0) return [];
  const what = "the uncertainty of the centre line at the targets";
  return [
    ...(marks.uLine === undefined
      ? [{ for: what, needs: "that of the line's projection over both marks", pointer: "/marks/uLine" }]
      : []),
    ...(marks.uTape === undefined ? [{ for: what, needs: "that of the tape", pointer: "/marks/uTape" }] : []),
  ];
}

function drawLine(marks: Marks, toVehicle: ToVehicle): { line: Line; workings: readonly Working[] } | null {
  const ends = endsOf(marks, toVehicle);
  if (ends.xFront - ends.xRear < SAME_PLACE) return null;
  if (marks.front.y === undefined || marks.rear.y === undefined) {
    const along = { xFront: ends.xFront, xRear: ends.xRear };
    return {
      line: { known: "x", xFront: ends.xFront, length: lengthAlongVehicle(along) },
      workings: [lengthAlongVehicle.work(along)],
    };
  }
  return {
    line: { known: "places", ends, length: lengthBetweenMarks(ends), yaw: yawOfMarks(ends) },
    workings: [lengthBetweenMarks.work(ends), yawOfMarks.work(ends)],
  };
}

/** The marks in the vehicle's axes; one without its y lies on the centre line as far as anybody knows. */
function endsOf({ front, rear }: Marks, toVehicle: ToVehicle) {
  const [f, r] = [front, rear].map(({ x, y = 0 }) => toVehicle({ x, y })) as [Point, Point];
  return { xFront: f.x, yFront: f.y, xRear: r.x, yRear: r.y };
}

function meetTarget(
  target: Point & { readonly key: string; readonly name: string },
  line: Line,
  marks: Marks,
): { readonly at: AtTarget; readonly workings: readonly Working[] } {
  const { x, y, key, name } = target;
  const distance =
    line.known === "places"
      ? beyondFrontMark.work({ x, y, ...line.ends, length: line.length }, `${name}: ${beyondFrontMark.gives}`)
      : aheadOfFrontMark.work({ x, xFront: line.xFront }, `${name}: ${aheadOfFrontMark.gives}`);
  const beyond = mm(distance.value);
  const lateral =
    line.known === "places"
      ? lateralOfLine.work(
          { yFront: line.ends.yFront, yRear: line.ends.yRear, beyond, length: line.length },
          `${name}: ${lateralOfLine.gives}`,
        )
      : null;
  const u = workUncertainty(marks, beyond, line.length, name);
  return {
    at: {
      target: key,
      beyond,
      lateral: lateral?.value ?? null,
      uLateral: u?.value ?? null,
    },
    workings: [distance, ...(lateral === null ? [] : [lateral]), ...(u === null ? [] : [u])],
  };
}

function workUncertainty(
  { uFront, uRear, uLine, uTape }: Marks,
  beyond: Millimetres,
  length: Millimetres,
  name: string,
): Working | null {
  if (uLine === undefined || uTape === undefined) return null;
  return uncertaintyOfLine.work(
    { beyond, length, uFront: mm(uFront), uRear: mm(uRear), uLine: mm(uLine), uTape: mm(uTape) },
    `${name}: ${uncertaintyOfLine.gives}`,
  );
}

/** Finds marks that make no centre line: without the places that their axes need, coinciding, or the wrong way round. */
export function checkCentreLine(setup: Setup): readonly Issue[] {
  const { marks } = setup;
  if (marks === undefined) return [];
  const unplaced =
    setup.axes === "floor" ? (["front", "rear"] as const).filter((end) => marks[end].y === undefined) : [];
  if (unplaced.length > 0) {
    return unplaced.map((end) => ({
      code: "missing-measurement",
      pointer: `/marks/${end}/y`,
      message: "in axes on the floor a mark without its y has no place",
      expected: "y of the mark, in mm",
    }));
  }
  const { toVehicle } = answerScene(setup).value;
  return toVehicle === null ? [] : checkOrder(marks, toVehicle);
}

function checkOrder(marks: Marks, toVehicle: ToVehicle): readonly Issue[] {
  const ends = endsOf(marks, toVehicle);
  if (ends.xFront - ends.xRear >= SAME_PLACE) return [];
  return [
    {
      code: "invalid-value",
      pointer: "/marks/front",
      message:
        lengthBetweenMarks(ends) < SAME_PLACE
          ? "the front mark and the rear mark are at the same place"
          : "the front mark does not lie ahead of the rear mark",
      expected: "two marks along the vehicle, the front one nearer its front",
    },
  ];
}
