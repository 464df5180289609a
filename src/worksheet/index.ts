export { renderHtml, type CardOptions } from "./job-card.js";
export { renderFloorPlan } from "./floor-plan.js";
export { renderSideView } from "./side-view.js";
export { renderSetupHtml } from "./setup-sheet.js";
export type { SetupSheetOptions } from "./setup-parts.js";
export type { DrawingOptions } from "./sheet.js";
