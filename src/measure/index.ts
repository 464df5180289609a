export * from "./formula.js";
export * from "./quantity.js";
