import type { Issue } from "../../errors.js";
import type { Bay } from "../shape.js";

type StatedObstacle = NonNullable<Bay["obstacles"]>[number];

/** Finds what cannot be true of a bay: obstacles outside of it, upside down, or two of one id. */
export function checkBay(bay: Bay | undefined): readonly Issue[] {
  if (bay === undefined) return [];
  const first = new Map<string, number>();
  return (bay.obstacles ?? []).flatMap((obstacle, index) => {
    const pointer = `/bay/obstacles/${index}`;
    const before = first.get(obstacle.id);
    if (before === undefined) first.set(obstacle.id, index);
    return [
      ...(before === undefined ? [] : [refuseDuplicate(obstacle.id, before, pointer)]),
      ...refuseOutside(obstacle, bay, pointer),
      ...refuseUpsideDown(obstacle, pointer),
    ];
  });
}

function refuseDuplicate(id: string, before: number, pointer: string): Issue {
  return {
    code: "duplicate-id",
    pointer: `${pointer}/id`,
    message: `the obstacle at /bay/obstacles/${before} has the id ${JSON.stringify(id)} already`,
  };
}

function refuseOutside({ x, y, length, width }: StatedObstacle, bay: Bay, pointer: string): readonly Issue[] {
  const half = bay.width / 2;
  const issues: Issue[] = [];
  if (x >= bay.length || x + length <= 0) {
    issues.push({
      code: "invalid-value",
      pointer: `${pointer}/x`,
      message: `the obstacle lies from ${x} to ${x + length} mm along the bay, wholly outside of it`,
      expected: `a part of it between 0 (the door) and ${bay.length} mm`,
    });
  }
  if (y >= half || y + width <= -half) {
    issues.push({
      code: "invalid-value",
      pointer: `${pointer}/y`,
      message: `the obstacle lies from ${y} to ${y + width} mm across the bay, wholly outside of it`,
      expected: `a part of it between ${-half} mm (right, looking in) and ${half} mm (left)`,
    });
  }
  return issues;
}

function refuseUpsideDown({ from = 0, to }: StatedObstacle, pointer: string): readonly Issue[] {
  if (to === undefined || to > from) return [];
  return [
    {
      code: "invalid-value",
      pointer: `${pointer}/to`,
      message: `the obstacle begins ${from} mm above the floor and ends at ${to} mm`,
      expected: "an end above its beginning",
    },
  ];
}
