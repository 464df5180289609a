export * from "./load.js";
export * from "./shape.js";
