export * from "./shape.js";
export * from "./vin.js";
