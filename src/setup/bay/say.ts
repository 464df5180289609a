import { formatTrimmed } from "../../measure/index.js";
import type { Move } from "./move.js";
import type { LeastBay } from "./least.js";
import type { Obstacle } from "./place.js";
import type { BayResult } from "../result.js";

type SetUp = BayResult["setUps"][number];

function say(value: number): string {
  return `${formatTrimmed(value, 1)} mm`;
}

function saySize({ length, width }: { readonly length: number; readonly width: number }): string {
  return `${formatTrimmed(length, 1)} × ${say(width)}`;
}

export function nameObstacle({ id, name }: Obstacle): string {
  return name ?? id;
}

/** Says a move as it looks from the door. */
export function sayMove(obstacle: Obstacle, { along, by, leavesBay }: Move): string {
  const ways = along === "x" ? ["further in", "towards the door"] : ["to the left", "to the right"];
  const where = by > 0 ? ways[0] : ways[1];
  const wall = leavesBay ? ", beyond the wall: there is no room for it in the bay" : "";
  return `${nameObstacle(obstacle)} is in the way: it would have to go ${say(Math.abs(by))} ${where} (seen from the door)${wall}.`;
}

/** Says how one set-up comes out; `isComplete` where all of it is known. */
export function saySetUp(
  setUp: Omit<SetUp, "says">,
  obstacles: readonly Obstacle[],
  isComplete: boolean,
): string {
  const { id, noseIn, least, fits, spare } = setUp;
  const takes = `${id}, nose ${noseIn ? "in" : "out"}, takes ${isComplete ? "" : "at least "}${saySize(least)}`;
  if (fits === true)
    return `${takes} and leaves ${say(spare.length)} along the bay, ${say(spare.width)} across.`;
  const reasons = reasonsOf(setUp, obstacles);
  if (fits === false) return `${takes} and does not fit: ${reasons.join(", ")}.`;
  return `${takes}; whether it fits cannot be told: ${reasons.join(", ") || "not all of it is known"}.`;
}

function reasonsOf(
  { spare, inTheWay }: Omit<SetUp, "says">,
  obstacles: readonly Obstacle[],
): readonly string[] {
  const lacks = [
    ...(spare.length < 0 ? [`${say(-spare.length)} of length are missing`] : []),
    ...(spare.width < 0 ? [`${say(-spare.width)} of width are missing`] : []),
    ...(spare.height !== null && spare.height < 0 ? [`${say(-spare.height)} of height are missing`] : []),
  ];
  if (inTheWay.length === 0) return lacks;
  const names = obstacles
    .filter(({ id }) => inTheWay.some(({ obstacle }) => obstacle === id))
    .map(nameObstacle);
  return [...lacks, `${names.join(" and ")} ${names.length === 1 ? "is" : "are"} in the way`];
}

/** Says how the whole comes out. */
export function sayBay(
  { verdict, setUps, obstacles }: Pick<BayResult, "verdict" | "setUps" | "obstacles">,
  { atOnce }: LeastBay,
): string {
  const count = setUps.length === 1 ? "one set-up" : `${setUps.length} set-ups`;
  const open = setUps.filter(({ fits }) => fits !== true);
  const reasons = open.flatMap((each) => {
    const own = reasonsOf(each, obstacles);
    return own.length === 0 ? [] : [`${each.id}: ${own.join(", ")}`];
  });
  switch (verdict) {
    case "fits": {
      const spare = `${say(Math.min(...setUps.map((each) => each.spare.length)))} to spare along the bay and ${say(Math.min(...setUps.map((each) => each.spare.width)))} across`;
      const together =
        setUps.length === 1
          ? ""
          : ` All from one set-up would take a bay of ${saySize(atOnce)} without obstacles.`;
      return `It fits in ${count}, with ${spare}.${together}`;
    }
    case "does-not-fit":
      return `It does not fit. ${reasons.join("; ")}.`;
    case "cannot-be-told":
      return `Whether it fits cannot be told: ${reasons.join("; ") || "not all that has to be free is known"}.`;
  }
}
