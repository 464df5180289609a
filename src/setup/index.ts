export { checkSetup, type SetupOptions } from "./check-setup.js";
export { readSetup } from "./read.js";
export { setupShape, type Setup } from "./shape.js";
export { setupResultShape, type SetupResult } from "./result.js";
export { FORMULAS } from "./formulas.js";
export {
  HEADLAMP_LIMITS,
  type HeadlampBand,
  type HeadlampLimits,
  type HeadlampRange,
  type HowKnown,
  type LoadState,
} from "./headlamps/headlamp-limits.js";
export {
  lateralOnThrustLine,
  setBackAngle,
  thrustAsPrinted,
  thrustHeading,
  totalToe,
} from "./vehicle/alignment.js";
export { toeAcrossRim, toeOfOneEdge } from "./vehicle/read-angles.js";
export { bodyPitch, missAtRange } from "./attitude/attitude.js";
export { bodyRoll } from "./attitude/axle-height.js";
export { isTyreSize, readTyreSize, tyreDiameter, type TyreSize } from "./attitude/tyre.js";
export {
  dropAt,
  inclinationFromDegrees,
  inclinationFromDrop,
  inclinationInDegrees,
} from "./headlamps/headlamp.js";
