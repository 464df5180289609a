export { buildPlan } from "./build.js";
export type { PlanInput } from "./input.js";
export { pathsTo } from "./reasons.js";
// Only its types: the shape itself is built for the published schema and the tests, and would slow every start.
export type * from "./shape.js";
