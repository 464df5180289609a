export * from "./check.js";
export * from "./columns.js";
export * from "./document.js";
export * from "./result.js";
export * from "./sample.js";
export * from "./shape.js";
export { readTime } from "./time.js";
export { distanceUnitOf, writeDistance, writeDuration } from "./words.js";
