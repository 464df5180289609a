export * from "./issues.js";
