import { formula, type Working } from "../../measure/index.js";
import type { Missing, SetupWarning } from "../answer.js";
import { coverOf, type Cover } from "./box.js";
import type { Scene } from "../scene.js";

/** The vehicle seen from above, as far as it is known. */
export interface Outline {
  readonly cover: Cover;
  /** From the middle of the front axle to the foremost and to the rearmost point; null where unknown. */
  readonly front: number | null;
  readonly rear: number | null;
  readonly height: number | null;
  readonly arithmetic: readonly Working[];
  readonly missing: readonly Missing[];
  readonly warnings: readonly SetupWarning[];
}

const rearEnd = formula({
  id: "bay-rear-end",
  gives: "from the middle of the front axle back to the rear bumper",
  text: "wheelbase + rearOverhang",
  inputs: { wheelbase: "mm", rearOverhang: "mm" },
  result: "mm",
  compute: ({ wheelbase, rearOverhang }) => wheelbase + rearOverhang,
});

export const FORMULAS = [rearEnd] as const;

/** How far a bumper may differ between its overhang and its measured place before somebody should look. */
const BUMPERS_AGREE = 10;

/**
 * The vehicle from above: from bumper to bumper, as wide as stated (mirrors count where the stated width has them). Where
 * something is not known it is as small as wheelbase and tracks leave it, and `missing` says what it takes.
 */
export function outlineOf(scene: Scene): Outline {
  const { wheelbase, rearOverhang, width, height } = scene;
  const measuredFront = scene.places.find(({ datum }) => datum === "front-bumper")?.x ?? null;
  const measuredRear = scene.places.find(({ datum }) => datum === "rear-bumper")?.x ?? null;
  const statedRear =
    wheelbase === null || rearOverhang === null ? null : rearEnd({ wheelbase, rearOverhang });
  const front = largerOf(scene.frontOverhang, measuredFront);
  const rear = largerOf(statedRear, measuredRear === null ? null : 0 - measuredRear);
  const half = (width ?? Math.max(scene.trackFront ?? 0, scene.trackRear ?? 0)) / 2;
  return {
    cover: coverOf(
      {
        x0: -(rear ?? wheelbase ?? 0),
        x1: front ?? 0,
        y0: -half,
        y1: half,
        atLeast: height ?? 0,
        atMost: height ?? Infinity,
      },
      height ?? 0,
    ),
    front,
    rear,
    height,
    arithmetic:
      statedRear === null || wheelbase === null || rearOverhang === null
        ? []
        : [rearEnd.work({ wheelbase, rearOverhang })],
    missing: missOutline(scene, front, rear),
    warnings: [
      ...compareBumpers("front", scene.frontOverhang, measuredFront),
      ...compareBumpers("rear", statedRear, measuredRear === null ? null : 0 - measuredRear),
    ],
  };
}

function largerOf(one: number | null, other: number | null): number | null {
  if (one === null || other === null) return one ?? other;
  return Math.max(one, other);
}

function compareBumpers(
  bumper: "front" | "rear",
  stated: number | null,
  measured: number | null,
): readonly SetupWarning[] {
  if (stated === null || measured === null || Math.abs(stated - measured) <= BUMPERS_AGREE) return [];
  return [
    {
      about: "bay",
      says: `The ${bumper} bumper as measured and the ${bumper} overhang as stated differ by more than ${BUMPERS_AGREE} mm: for the room in the bay the longer one counts.`,
    },
  ];
}

/** Where the dimensions stand in the document. */
export const DIMENSIONS = "/vehicle/dimensions";

function missOutline(scene: Scene, front: number | null, rear: number | null): readonly Missing[] {
  const what = "whether the vehicle's outline fits in the bay";
  const missing: Missing[] = [];
  if (front === null) {
    missing.push({
      for: what,
      needs: "the front overhang, or the place of the front bumper",
      pointer: `${DIMENSIONS}/frontOverhang`,
    });
  }
  if (rear === null) {
    const lacking = scene.rearOverhang === null ? "rearOverhang" : "wheelbase";
    const names = [
      ...(scene.wheelbase === null ? ["the wheelbase"] : []),
      ...(scene.rearOverhang === null ? ["the rear overhang"] : []),
    ];
    missing.push({
      for: what,
      needs: `${names.join(" and ")}, or the place of the rear bumper`,
      pointer: `${DIMENSIONS}/${lacking}`,
    });
  }
  if (scene.width === null) {
    missing.push({ for: what, needs: "the vehicle's width", pointer: `${DIMENSIONS}/width` });
  }
  return missing;
}
