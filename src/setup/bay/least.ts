import { formula } from "../../measure/index.js";
import { answer, type Answer } from "../answer.js";
import { joinCovers, type Cover } from "./box.js";
import { coverSteps, type StepCover } from "./cover.js";
import { outlineOf, type Outline } from "./outline.js";
import type { BayResult, TargetResult } from "../result.js";
import type { Scene, StaticStep } from "../scene.js";

export type BaySize = NonNullable<BayResult["least"]>;

/** The least rectangles in which static calibrations can be done, the vehicle placed as well as can be; no obstacles. */
export interface LeastBay {
  /** Each calibration from a set-up of its own if need be: in less, one of them cannot be done. */
  readonly oneByOne: BaySize;
  /** All of them from one set-up. */
  readonly atOnce: BaySize;
}

/** What a question about room is about. */
export interface RoomAsked {
  readonly scene: Scene;
  readonly steps: readonly StaticStep[];
  readonly targets: readonly TargetResult[];
}

export const leastLength = formula({
  id: "bay-least-length",
  gives: "least length of the bay",
  text: "front + rear",
  inputs: { front: "mm", rear: "mm" },
  result: "mm",
  compute: ({ front, rear }) => front + rear,
});

export const leastWidth = formula({
  id: "bay-least-width",
  gives: "least width of the bay",
  text: "left + right",
  inputs: { left: "mm", right: "mm" },
  result: "mm",
  compute: ({ left, right }) => left + right,
});

export const FORMULAS = [leastLength, leastWidth] as const;

/**
 * Works out the least bay for static calibrations. Null where the outline of the vehicle or the room that one of them
 * takes is not known; the height alone is null where only that is not.
 */
export function leastBay({ scene, steps, targets }: RoomAsked): Answer<LeastBay> {
  const outline = outlineOf(scene);
  const parts = coverSteps(steps, targets, outline);
  const missing = [outline, ...parts].flatMap((each) => each.missing);
  return answer<LeastBay>({
    value: missing.length > 0 ? null : leastOf(outline, parts),
    missing,
    warnings: [outline, ...parts].flatMap((each) => each.warnings),
  });
}

/** The least sizes for the parts as far as they are known. */
export function leastOf(outline: Outline, parts: readonly StepCover[]): LeastBay {
  const alone = parts.map(({ cover }) => sizeOf(joinCovers([outline.cover, cover]), outline));
  const all = sizeOf(joinCovers([outline.cover, ...parts.map(({ cover }) => cover)]), outline);
  if (alone.length === 0) return { oneByOne: all, atOnce: all };
  return {
    oneByOne: {
      length: Math.max(...alone.map(({ length }) => length)),
      width: Math.max(...alone.map(({ width }) => width)),
      height: all.height,
    },
    atOnce: all,
  };
}

/** The least rectangle for a cover; its height is null where the vehicle's is not known. */
export function sizeOf(cover: Cover, { height }: Outline): BaySize {
  return {
    length: cover.length,
    width: cover.left + cover.right,
    height: height === null ? null : cover.height,
  };
}
