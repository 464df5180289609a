export { renderText, type OrderLine, type TextOptions } from "./text.js";
export { renderMermaid, type MermaidOptions } from "./mermaid.js";
export { renderExplanation, type ExplanationOptions } from "./explanation.js";
export { renderRule, renderRuleList, type RuleOptions } from "./rule.js";
export { comparePacks, comparePlans, type PackChanges, type RuleChange } from "./changes.js";
export type { Role, Styler } from "./layout.js";
export { findSetUp, numberOf, type SetUpView, type TargetResult } from "./set-ups.js";
export * from "./setup-words.js";
export {
  causeOf,
  gatherMaterial,
  joinIds,
  labelOfFeature,
  nameNeeders,
  type Material,
  type MaterialOptions,
} from "./page.js";
export {
  groupPreconditions,
  tellLimits,
  tellNotes,
  tellSections,
  type PlanPrecondition,
} from "./preconditions.js";
export { joinPlaces, nameMany } from "./questions.js";
export {
  APPLIES,
  NOT_INDICATED,
  dueOf,
  inspectionsOf,
  joinNumbers,
  outcomeOf,
  recordsOf,
} from "./tell-plan.js";
export {
  headingOf,
  holdsOf,
  keyOfHold,
  nameOfImplied,
  shortestReason,
  tellClearArea,
  tellDrive,
  tellMethod,
  tellPlace,
  type SharedHold,
} from "./tell-requirement.js";
export {
  nameOfRequirement,
  nameOfSource,
  nameOfWork,
  namePlaces,
  nameRequirements,
  sentence,
} from "./words.js";
export { nameOfUnit, type LengthUnits } from "./units.js";
export { renderDrive, type DriveTextOptions } from "./drive.js";
export { renderSetup, type SetupTextOptions } from "./setup.js";
export { tellSetup, tellSetupHead } from "./tell-setup.js";
export {
  isField,
  isStrong,
  isTick,
  joinWords,
  type Block,
  type Cell,
  type SetupSection,
  type Words,
} from "./setup-content.js";
export { tellConforming } from "./setup-decisions.js";
