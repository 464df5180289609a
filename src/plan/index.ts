export * from "./build.js";
export * from "./shape.js";
