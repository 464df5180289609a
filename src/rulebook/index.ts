export * from "./check.js";
export * from "./fact-catalogue.js";
export * from "./load.js";
export * from "./rule.js";
export * from "./stage-order.js";
