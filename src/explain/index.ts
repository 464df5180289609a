export * from "./explain.js";
