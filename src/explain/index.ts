export * from "./explain.js";
export { nameOfFinding, type StatedFindings } from "./findings.js";
