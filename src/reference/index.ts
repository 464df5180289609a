/**
 * The second opinion: the same decisions by json-rules-engine, from the same rule files.
 *
 * @packageDocumentation
 */
export { crossCheck, type CrossCheck } from "./cross-check.js";
export {
  decideByReference,
  type ReferenceDecision,
  type ReferenceOperation,
  type ReferenceRequirement,
  type ReferenceWaiver,
} from "./decide.js";
