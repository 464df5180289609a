export { renderHtml, type CardOptions } from "./job-card.js";
export { renderFloorPlan } from "./floor-plan.js";
export { renderSideView } from "./side-view.js";
