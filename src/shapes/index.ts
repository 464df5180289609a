export * from "./dimensions.js";
export * from "./guard.js";
export * from "./issues.js";
export * from "./order.js";
export * from "./positions.js";
