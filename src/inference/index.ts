export * from "./chain.js";
export * from "./derivation.js";
export * from "./program.js";
