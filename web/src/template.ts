/** Templates: markup with gaps, drawn so that only gaps whose value has changed are touched. All of the page takes them from here. */
export { html, svg, nothing, noChange as unchanged, render, type SVGTemplateResult, type TemplateResult } from "lit-html";
export { guard } from "lit-html/directives/guard.js";
export { live } from "lit-html/directives/live.js";
export { repeat } from "lit-html/directives/repeat.js";
