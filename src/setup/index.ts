export { checkSetup, type SetupOptions } from "./check-setup.js";
export { readSetup } from "./read.js";
export { setupShape, type Setup } from "./shape.js";
export { setupResultShape, type SetupResult } from "./result.js";
export {
  HEADLAMP_LIMITS,
  type HeadlampBand,
  type HeadlampLimits,
  type HeadlampRange,
} from "./headlamps/headlamp-limits.js";
