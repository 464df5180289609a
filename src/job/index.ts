export * from "./read.js";
export * from "./shape.js";
export * from "./vin.js";
