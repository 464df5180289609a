export { auditPlan } from "./audit-plan.js";
export { readSubmitted } from "./read.js";
export {
  FINDING_KINDS,
  auditShape,
  submittedShape,
  type Audit,
  type Finding,
  type FindingKind,
  type Submitted,
  type SubmittedLine,
  type SubmittedRecord,
} from "./shape.js";
