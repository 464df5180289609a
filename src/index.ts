/**
 * Repair operations and a vehicle's sensor fit in; a justified list of calibrations, resets, aims and checks out.
 *
 * @packageDocumentation
 */
export { planCalibrations, type PlanOptions } from "./plan-calibrations.js";
export { loadRulebook, COMMON_PRACTICE } from "./bundled/load-rulebook.js";
export {
  STRATA,
  checkPack,
  type CheckedPack,
  type LoadedRule,
  type PackSource,
  type Rule,
  type Rulebook,
  type Stratum,
} from "./rulebook/index.js";
export { loadProcedures, type LoadedProcedures, type ProcedurePack } from "./procedures/index.js";
export {
  readJob,
  readVin,
  checkDigitOf,
  type Job,
  type JobEquipment,
  type JobFindings,
  type JobOperation,
  type JobVehicle,
  type ReadJob,
  type VinReading,
} from "./job/index.js";
export {
  explain,
  type Chain,
  type ConditionLine,
  type ConsideredOperation,
  type ExplainContext,
  type Explanation,
  type HoldExplanation,
  type Link,
  type LinkRule,
  type NearRule,
  type NotIndicatedExplanation,
  type PlaceExplanation,
  type RequirementExplanation,
  type StatedFindings,
  type WouldBeDue,
} from "./explain/index.js";
export {
  renderText,
  renderMermaid,
  renderExplanation,
  renderRule,
  renderRuleList,
  comparePacks,
  comparePlans,
  type ExplanationOptions,
  type MermaidOptions,
  type OrderLine,
  type PackChanges,
  type Role,
  type RuleChange,
  type RuleOptions,
  type Styler,
  type TextOptions,
} from "./report/index.js";
export type { Plan, Requirement, PlanReason, PlanStep, PlanQuestion, PlanSource } from "./plan/index.js";
export {
  InputError,
  ERROR_CODES,
  formatIssue,
  type ErrorCode,
  type Issue,
  type InputKind,
} from "./errors.js";
export * from "./vocabulary/index.js";
