export { SEPARATOR, type Cause, type OperationSpec } from "./causes.js";
export * from "./finding-causes.js";
export * from "./job-facts.js";
export { causeOfImplied, causeOfOperation } from "./operation-causes.js";
export * from "./readers.js";
export * from "./relations.js";
export * from "./sensor.js";
export * from "./unknowns.js";
export * from "./vehicle.js";
