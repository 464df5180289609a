export * from "./truth.js";
export * from "./fact.js";
export * from "./operators.js";
export * from "./condition.js";
