import type { Issue } from "../errors.js";
import {
  acceptsPosition,
  nameOfSensor,
  positionsOf,
  type PositionId,
  type SensorId,
} from "../vocabulary/index.js";

/** Finds a position that the sensor does not have; one left out speaks of all of them. */
export function checkPosition(
  sensor: SensorId,
  position: PositionId | null | undefined,
  pointer: string,
): readonly Issue[] {
  if (acceptsPosition(sensor, position ?? null)) return [];
  const places = positionsOf(sensor).flatMap((each) => each ?? []);
  return [
    {
      code: "invalid-position",
      pointer,
      message: `the ${nameOfSensor(sensor, null)} has no position "${String(position)}"`,
      expected:
        places.length === 0 ? "null, since there is only one" : `one of ${places.join(", ")}, or null`,
    },
  ];
}
