export * from "./causes.js";
export * from "./job-facts.js";
export * from "./readers.js";
export * from "./relations.js";
export * from "./unknowns.js";
export * from "./vehicle.js";
