import { mm } from "../../measure/index.js";
import type { Scene } from "../scene.js";
import type { Setup } from "../shape.js";
import type { Spot } from "./plane-fit.js";

/** The spots of a survey in the vehicle's axes; null where nothing ties the two. */
export function placeSpots(floor: NonNullable<Setup["floor"]>, scene: Scene): readonly Spot[] | null {
  const { toVehicle } = scene;
  if (toVehicle === null) return null;
  return floor.map((spot) => ({
    ...toVehicle(spot),
    z: mm(spot.z),
    u: spot.u === undefined ? null : mm(spot.u),
  }));
}
