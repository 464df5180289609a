export { renderText, type OrderLine, type TextOptions } from "./text.js";
export { renderMermaid, type MermaidOptions } from "./mermaid.js";
export { renderExplanation, type ExplanationOptions } from "./explanation.js";
export { renderRule, renderRuleList, type RuleOptions } from "./rule.js";
export { comparePacks, comparePlans, type PackChanges, type RuleChange } from "./changes.js";
export type { Role, Styler } from "./layout.js";
