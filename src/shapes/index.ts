export * from "./guard.js";
export * from "./issues.js";
