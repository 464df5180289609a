import { formula, mm, type Working } from "../../measure/index.js";
import type { Missing, SetupWarning } from "../answer.js";
import { NOTHING, contains, coverOf, joinCovers, type Cover, type Volume } from "./box.js";
import { DIMENSIONS, type Outline } from "./outline.js";
import type { BayResult, TargetResult } from "../result.js";
import type { StaticStep } from "../scene.js";

/** What one calibration covers, and what of it is not known. */
export interface StepCover {
  readonly step: StaticStep;
  readonly cover: Cover;
  readonly areas: BayResult["setUps"][number]["clearAreas"];
  readonly arithmetic: readonly Working[];
  readonly missing: readonly Missing[];
  readonly warnings: readonly SetupWarning[];
}

const reachBeyondBumper = formula({
  id: "bay-reach-beyond-bumper",
  gives: "from the middle of the front axle to the end of a clear area beyond a bumper",
  text: "bumper + length",
  inputs: { bumper: "mm", length: "mm" },
  result: "mm",
  compute: ({ bumper, length }) => bumper + length,
});

const reachAroundForwards = formula({
  id: "bay-reach-around-forwards",
  gives: "from the middle of the front axle forwards to the end of a clear area around the vehicle",
  text: "(front - rear + length) / 2",
  inputs: { front: "mm", rear: "mm", length: "mm" },
  result: "mm",
  compute: ({ front, rear, length }) => (front - rear + length) / 2,
});

const reachAroundBackwards = formula({
  id: "bay-reach-around-backwards",
  gives: "from the middle of the front axle back to the end of a clear area around the vehicle",
  text: "(rear - front + length) / 2",
  inputs: { front: "mm", rear: "mm", length: "mm" },
  result: "mm",
  compute: ({ front, rear, length }) => (rear - front + length) / 2,
});

export const FORMULAS = [reachBeyondBumper, reachAroundForwards, reachAroundBackwards] as const;

/** What each calibration covers beside the vehicle itself: its clear area and the places of its targets. */
export function coverSteps(
  steps: readonly StaticStep[],
  targets: readonly TargetResult[],
  outline: Outline,
): readonly StepCover[] {
  return steps.map((step) => {
    const area = coverArea(step, outline);
    const own = targets.filter(({ key }) => step.targets.includes(key));
    const placed = own
      .map((target) => coverTarget(target, area.cover.boxes))
      .filter((cover) => cover !== null);
    return {
      step,
      cover: joinCovers([area.cover, ...placed]),
      areas: area.areas,
      arithmetic: area.arithmetic,
      missing: [...area.missing, ...missTargets(step, own)],
      warnings: warnOfTargets(step, own),
    };
  });
}

type AreaCover = Pick<StepCover, "cover" | "areas" | "arithmetic" | "missing">;

function coverArea({ requirement, clearArea }: StaticStep, outline: Outline): AreaCover {
  if (clearArea === null) return { cover: NOTHING, areas: [], arithmetic: [], missing: [] };
  const { length, width } = clearArea;
  const height = clearArea.height ?? null;
  const place = placeArea(clearArea.datum, length, outline);
  const half = width / 2;
  if (place === null) {
    // Where it begins is not known, but it begins no nearer than the part of the vehicle that is known.
    const { front, rear } = outline.cover;
    const ahead = clearArea.datum === "front-bumper" ? front + length : front;
    const behind = clearArea.datum === "rear-bumper" ? rear + length : rear;
    const least = Math.max(length, ahead + behind);
    return {
      cover: {
        ...NOTHING,
        front: ahead,
        rear: behind,
        left: half,
        right: half,
        length: least,
        height: height ?? 0,
      },
      areas: [],
      arithmetic: [],
      missing: [
        {
          for: `the place of the clear area of ${requirement}`,
          needs: "the outline of the vehicle: wheelbase and both overhangs, or the places of the bumpers",
          pointer: DIMENSIONS,
        },
      ],
    };
  }
  const box = { x0: place.x0, x1: place.x1, y0: -half, y1: half };
  const area = { x: box.x0, y: box.y0, length, width };
  return {
    cover: coverOf({ ...box, atLeast: height ?? 0, atMost: height ?? Infinity }, height ?? 0),
    arithmetic: place.arithmetic,
    areas: [{ requirement, area, height }],
    missing: [],
  };
}

interface AreaPlace {
  readonly x0: number;
  readonly x1: number;
  readonly arithmetic: readonly Working[];
}

/** A clear area around the vehicle has its middle half-way between the bumpers. */
function placeArea(
  datum: "front-bumper" | "rear-bumper" | "vehicle-centre",
  size: number,
  outline: Outline,
): AreaPlace | null {
  const { front, rear } = outline;
  const length = mm(size);
  switch (datum) {
    case "front-bumper": {
      if (front === null) return null;
      const given = { bumper: mm(front), length };
      const x1 = reachBeyondBumper(given);
      return { x0: front, x1, arithmetic: [reachBeyondBumper.work(given)] };
    }
    case "rear-bumper": {
      if (rear === null) return null;
      const given = { bumper: mm(rear), length };
      return { x0: 0 - reachBeyondBumper(given), x1: -rear, arithmetic: [reachBeyondBumper.work(given)] };
    }
    case "vehicle-centre": {
      if (front === null || rear === null) return null;
      const given = { front: mm(front), rear: mm(rear), length };
      return {
        x0: 0 - reachAroundBackwards(given),
        x1: reachAroundForwards(given),
        arithmetic: [reachAroundForwards.work(given), reachAroundBackwards.work(given)],
      };
    }
  }
}

/** The rectangle around a target's bar, or the point below its middle; null where its place is not known. */
function coverTarget({ bar, stands }: TargetResult, clear: readonly Volume[]): Cover | null {
  if (stands === null) return null;
  const ends = bar === null ? [stands] : [bar.left, bar.right];
  const xs = ends.map(({ x }) => x);
  const ys = ends.map(({ y }) => y);
  const middle = Math.max(0, stands.heightAboveFloor ?? stands.height);
  const box = { x0: Math.min(...xs), x1: Math.max(...xs), y0: Math.min(...ys), y1: Math.max(...ys) };
  // Within a clear area it is the procedure that says how high the room has to be. Elsewhere: it stands on the floor or
  // above it, so that its upper edge lies no further above its middle than the floor below.
  const stated = clear.find((each) => contains(each, box) && each.atMost < Infinity)?.atMost;
  return coverOf({ ...box, atLeast: middle, atMost: Math.max(middle, stated ?? 2 * middle) }, middle);
}

/** A target without a place is taken to stand within its calibration's clear area, where there is one. */
function missTargets(
  { requirement, clearArea }: StaticStep,
  own: readonly TargetResult[],
): readonly Missing[] {
  if (clearArea !== null) return [];
  const what = `the room that ${requirement} takes in the bay`;
  if (own.length === 0) {
    return [{ for: what, needs: "its procedure's clear area, or the places of its targets", pointer: "" }];
  }
  return own
    .filter(({ stands }) => stands === null)
    .map(({ name }) => ({ for: what, needs: `the place of ${name}, or a clear area`, pointer: "" }));
}

function warnOfTargets(step: StaticStep, own: readonly TargetResult[]): readonly SetupWarning[] {
  const warnings: SetupWarning[] = [];
  const warn = (about: string, says: string): void => {
    warnings.push({ about, says });
  };
  for (const { name, stands, bar } of own) {
    if (stands === null && step.clearArea !== null) {
      warn(
        name,
        `Where ${name} stands is not known: for the room in the bay it is taken to stand within the clear area of ${step.requirement}.`,
      );
    }
    if (stands !== null && bar === null) {
      warn(
        name,
        `How wide ${name} is is not known: for the room in the bay only the place of its middle counts.`,
      );
    }
  }
  if (step.clearArea === null && own.some(({ stands }) => stands !== null)) {
    warn(
      step.requirement,
      `No clear area is stated for ${step.requirement}: of its room in the bay only the places of its targets count, without the depth of their stands and without what lies between them and the vehicle.`,
    );
  }
  return warnings;
}
