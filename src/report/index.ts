export { renderText, type OrderLine, type TextOptions } from "./text.js";
export { renderMermaid, type MermaidOptions } from "./mermaid.js";
export type { Role, Styler } from "./layout.js";
