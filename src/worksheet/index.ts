export { renderHtml, type CardOptions } from "./job-card.js";
