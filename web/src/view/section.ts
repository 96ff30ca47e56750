/** The axial section to scale: left of the axis the first cell, right of it the second. */
import { html, nothing, svg, type SVGTemplateResult, type TemplateResult } from "../template";
import { fill, hatches, overlay, type Look } from "../draw/hatch";
import { legend } from "../draw/legend";
import { rulerAcross, rulerUp } from "../draw/ruler";
import { spread } from "../draw/spread";
import type { Side } from "../entry";
import type { Section } from "../model/contract";
import type { Page } from "../page";
import { estimateOf, type State } from "../state";
import { picture } from "./frame";
import { grips } from "./grips";
import { cellName, cut, nameOf } from "./words";

const SET = "section";
/** A part of 0.2 mm must still be seen. */
const THINNEST = 1.5;
const LINE = 16;
/** Width of a letter of a label, on average, and of what stands left of all labels: the ruler with its figures. */
const LETTER = 7.2;
const RULED = 34;

export interface Paper {
  width: number;
  top: number;
  base: number;
  axis: number;
  scale: number;
  /** Where labels begin, left and right of the can. */
  left: number;
  right: number;
  /** Whether there is room for words at all. */
  lettered: boolean;
}

interface Label {
  text: string;
  title: string;
  /** Where it points to, px. */
  x: number;
  y: number;
  strong?: boolean;
}

/** How the drawing lies on its paper: beside the entries, or wide for a closer look. */
function lay(first: Section, second: Section | null, wide: boolean, held: { diameter: number; height: number } | null, narrow: boolean): Paper {
  const width = narrow ? 340 : wide ? 684 : second ? 520 : 480;
  const margin = narrow ? { left: 66, right: 44 } : wide ? { left: 240, right: 192 } : { left: second ? 160 : 64, right: second ? 152 : 136 };
  // While a hand moves an edge the scale holds, or the edge would run away from it.
  const radius = Math.max(first.diameter, second?.diameter ?? 0, held?.diameter ?? 0) / 2;
  const height = Math.max(first.height, second?.height ?? 0, held?.height ?? 0);
  const scale = Math.min((width - margin.left - margin.right) / 2 / radius, (wide ? 520 : 400) / height);
  const top = 34;
  const axis = margin.left + (width - margin.left - margin.right) / 2;
  return { width, top, base: top + height * scale, axis, scale, left: axis - radius * scale - 10, right: axis + radius * scale + 10, lettered: !narrow };
}

function half(section: Section, at: Paper, way: -1 | 1): SVGTemplateResult[] {
  // Empty places first, so that the thin parts beside them are not covered.
  const order = [...section.blocks].sort((a, b) => Number(b.look === "space") - Number(a.look === "space"));
  return order.map(({ what, look, r, z }) => {
    const inner = at.axis + way * r[0] * at.scale;
    const outer = at.axis + way * r[1] * at.scale;
    const width = Math.max(Math.abs(outer - inner), THINNEST);
    const height = Math.max((z[1] - z[0]) * at.scale, THINNEST);
    const x = way < 0 ? Math.max(inner, outer) - width : Math.min(inner, outer);
    return svg`<rect class="block" x=${x} y=${at.base - z[0] * at.scale - height} width=${width} height=${height}
      fill=${look === "space" ? "var(--space)" : fill(SET, look)} stroke="var(--block-edge)" stroke-width=${look === "space" ? 0 : 0.6}><title>${what}</title></rect>`;
  });
}

/** One label for each kind of block; for the second cell only of blocks that the first has not. */
function labelled(section: Section, at: Paper, way: -1 | 1, than: Section | null): Label[] {
  const seen = new Set<string>();
  const labels: Label[] = [];
  let tall = 0;
  for (const block of section.blocks) {
    if (seen.has(block.what)) continue;
    seen.add(block.what);
    if (than?.blocks.some(({ what }) => what === block.what)) continue;
    const share = block.z[1] - block.z[0] > 0.4 * section.height ? 0.42 + 0.16 * tall++ : 0.5;
    const r = block.r[1] - Math.min((block.r[1] - block.r[0]) / 2, 2.5);
    labels.push({ text: block.what.startsWith("axial clearance of ") ? "axial clearance" : block.what, title: block.what, x: at.axis + way * r * at.scale, y: at.base - (block.z[0] + share * (block.z[1] - block.z[0])) * at.scale });
  }
  return labels;
}

function drawLabels(labels: Label[], at: Paper, way: -1 | 1, from: number): SVGTemplateResult[] {
  const edge = way < 0 ? at.left : at.right;
  const most = Math.floor((way < 0 ? edge - RULED : at.width - edge - 12) / LETTER);
  const placed = spread(labels.map(({ y }) => y), LINE, at.top + 4, at.base + 2);
  return labels.map((label, i) => {
    const y = placed[i] ?? label.y;
    const bend = edge - way * 8;
    const text = !at.lettered ? (label.strong ? "Δ" : String(from + i)) : label.strong ? label.text : cut(label.text, most);
    return svg`<g><title>${label.title}</title>
      <path d=${`M${label.x} ${label.y}L${bend} ${label.y}L${edge} ${y}h${way * 4}`} fill="none" stroke="var(--paper)" stroke-width="2.6" stroke-opacity="0.8" />
      <path d=${`M${label.x} ${label.y}L${bend} ${label.y}L${edge} ${y}h${way * 4}`} fill="none" stroke=${label.strong ? "var(--second)" : "var(--ink)"} stroke-width="0.8" />
      <circle cx=${label.x} cy=${label.y} r="1.8" fill=${label.strong ? "var(--second)" : "var(--ink)"} stroke="var(--paper)" stroke-width="0.8" />
      <text class=${label.strong ? "strong second" : ""} x=${edge + way * 8} y=${y + 4.5} text-anchor=${way < 0 ? "end" : "start"}>${text}</text></g>`;
  });
}

/** The height that the parts of the first cell took, laid over the second. */
function freed(state: State, at: Paper): { drawn: SVGTemplateResult; label: Label } | null {
  const freedHeight = state.result?.kind === "two" ? state.result.comparison.freed : null;
  const second = estimateOf(state, "second");
  if (!freedHeight?.z || !second) return null;
  const [low, high] = freedHeight.z.map((z) => at.base - z * at.scale) as [number, number];
  const radius = (second.section.diameter / 2) * at.scale;
  const x = at.axis + radius + 5;
  const words = `${freedHeight.height.text} freed`;
  return {
    drawn: svg`<rect x=${at.axis} y=${high} width=${radius} height=${Math.max(low - high, THINNEST)} fill="url(#freed)" fill-opacity="0.85" />
      <path d=${`M${x - 4} ${high}h6V${low}h-6`} fill="none" stroke="var(--second)" stroke-width="1.6" />`,
    label: { text: words, title: `${words}: ${freedHeight.left.join(", ")}`, x: x + 2, y: (low + high) / 2, strong: true },
  };
}

/** The place that became free, near the axis and large enough to see. */
function enlarged(state: State, main: Paper, first: Section, second: Section): { drawn: SVGTemplateResult; height: number } | null {
  const freedHeight = state.result?.kind === "two" ? state.result.comparison.freed : null;
  if (!freedHeight?.z) return null;
  const x = 8;
  const width = main.width - (main.lettered ? 126 : 20);
  const low = Math.max(0, freedHeight.z[0] - 1.2);
  const high = freedHeight.z[1] + 2.6;
  const scale = Math.max(width / Math.max(first.diameter, second.diameter), Math.min(130 / (high - low), 6 * main.scale));
  const tall = (high - low) * scale;
  const at: Paper = { ...main, axis: width / 2, base: high * scale, scale };
  const top = main.base + 62;
  const [from, to] = freedHeight.z.map((z) => at.base - z * scale) as [number, number];
  const radius = Math.min((second.diameter / 2) * scale, width / 2);
  const end = x + width / 2 + radius;
  return {
    drawn: svg`<text x=${x} y=${top - 6}>the freed height near the axis, ${(scale / main.scale).toFixed(1)} times as large</text>
      <svg x=${x} y=${top} width=${width} height=${tall} viewBox="0 0 ${width} ${tall}" overflow="hidden">
        ${half(first, at, -1)}${half(second, at, 1)}
        <rect x=${at.axis} y=${to} width=${radius} height=${from - to} fill="url(#freed)" fill-opacity="0.5" />
        <path d="M${at.axis} 0V${tall}" stroke="var(--ink)" stroke-width="1" stroke-dasharray="9 3 2 3" fill="none" />
        <path d="M${at.axis} ${from}h${radius}M${at.axis} ${to}h${radius}" stroke="var(--second)" stroke-width="1.4" fill="none" /></svg>
      <path d="M${end + 2} ${top + to}h5V${top + from}h-5" stroke="var(--second)" stroke-width="1.6" fill="none" />
      ${main.lettered ? svg`<text class="strong second" x=${end + 12} y=${top + (from + to) / 2 + 4.5}>${freedHeight.height.text}</text>` : nothing}`,
    height: tall + 34,
  };
}

/** The freed height, enlarged; nothing where none was freed. */
export function closeup(page: Page): TemplateResult | typeof nothing {
  const { state } = page;
  const [first, second] = [estimateOf(state, "first")?.section, estimateOf(state, "second")?.section];
  const { narrow } = state.shown;
  const freedHeight = state.result?.kind === "two" ? state.result.comparison.freed : null;
  if (!first || !second || !freedHeight?.z) return nothing;
  const at = lay(first, second, true, null, narrow);
  const closer = enlarged(state, { ...at, base: -44 }, first, second);
  if (!closer) return nothing;
  const looks = [...first.blocks, ...second.blocks].map(({ look }) => look).filter((look): look is Exclude<Look, "space"> => look !== "space");
  const drawing = html`<svg class="picture" viewBox="0 0 ${at.width} ${closer.height}" role="img" aria-labelledby="closeup-title"><defs>${hatches(SET, looks)}${overlay("freed", "var(--second)")}</defs>${closer.drawn}</svg>`;
  return picture(page, { id: "closeup", title: "The freed height, close up", drawing, caption: html`Left of the axis ${cellName(state, "first")}, right of it ${cellName(state, "second")}. Hatched: the height that belonged to ${freedHeight.left.join(", ") || "the hardware"}.`, behind: () => behind(state) });
}

export function section(page: Page): TemplateResult | typeof nothing {
  const { state } = page;
  const first = estimateOf(state, "first")?.section;
  if (!first) return nothing;
  const second = estimateOf(state, "second")?.section ?? null;
  const { narrow, held } = state.shown;
  const at = lay(first, second, false, held, narrow);
  const took = freed(state, at);
  const looks = [...first.blocks, ...(second?.blocks ?? [])].map(({ look }) => look).filter((look): look is Exclude<Look, "space"> => look !== "space");
  const key = legend(SET, looks, { x: 8, y: at.base + 42, width: at.width - 16 });
  const rightLabels = second ? labelled(second, at, 1, first) : labelled(first, at, 1, null);
  const leftLabels = second ? labelled(first, at, -1, null) : [];
  const right = took ? [...rightLabels, took.label] : rightLabels;
  const height = at.base + 42 + key.height;
  const rule = second ? 24 : 34;
  const drawing = html`<svg class="picture section ${narrow ? "small" : ""}" viewBox="0 0 ${at.width} ${height}" role="group" aria-labelledby="section-title">
    <defs>${hatches(SET, looks)}${overlay("freed", "var(--second)")}</defs>
    ${rulerUp(rule, at.base, at.scale, Math.max(first.height, second?.height ?? 0))}
    ${rulerAcross(at.axis, at.base + 8, at.scale, first.diameter / 2, (second ?? first).diameter / 2)}
    ${half(first, at, -1)}${half(second ?? first, at, 1)}${took?.drawn ?? nothing}
    <path d=${`M${at.axis} ${at.top - 26}V${at.base + 4}`} stroke="var(--ink)" stroke-width="1" stroke-dasharray="9 3 2 3" fill="none" />
    ${second
      ? svg`<text class="strong first" x=${at.axis - 10} y=${at.top - 14} text-anchor="end">${cut(nameOf(state, "first"), narrow ? 18 : 30)}</text>
          <text class="strong second" x=${at.axis + 10} y=${at.top - 14}>${cut(nameOf(state, "second"), narrow ? 18 : 30)}</text>`
      : nothing}
    ${drawLabels(leftLabels, at, -1, 1)}${drawLabels(right, at, 1, leftLabels.length + 1)}
    ${grips(page, "first", first, at, second ? -1 : 1)}${second ? grips(page, "second", second, at, 1) : nothing}
    ${key.drawn}
  </svg>${narrow ? numbered([...leftLabels, ...rightLabels], took?.label ?? null) : nothing}`;
  return picture(page, { id: "section", title: second ? "Both cells cut along the axis, to one scale" : "The cell cut along the axis, to scale", drawing, caption: caption(state, took !== null), behind: () => behind(state) });
}

/** On a narrow screen labels are numbers; here are their words. */
const numbered = (labels: Label[], strong: Label | null): TemplateResult =>
  html`<details class="more" data-print><summary>What the numbers name</summary><ol class="numbered">${labels.map(({ title }) => html`<li>${title}</li>`)}</ol></details>${strong ? html`<p class="numbered second">Δ ${strong.title}</p>` : nothing}`;

function caption(state: State, took: boolean): TemplateResult {
  const comparison = state.result?.kind === "two" ? state.result.comparison : null;
  if (!comparison) return html`Millimetres from the outside of the bottom and from the axis. <span class="unprinted">Drag the marks, or use the arrow keys on them: the can’s edge and height, the height of a part.</span>`;
  const sides = html`Left of the axis ${cellName(state, "first")}, right of it ${cellName(state, "second")}, in millimetres. <span class="unprinted">Drag the marks, or use the arrow keys on them.</span>`;
  return took && comparison.freed
    ? html`${sides} Hatched: the height that belonged to ${comparison.freed.left.join(", ")} in the first cell.`
    : html`${sides}`;
}

function behind(state: State): { heads: string[]; rows: (string | number)[][] } {
  const sides: Side[] = ["first", "second"];
  const rows = sides.flatMap((side) =>
    (estimateOf(state, side)?.section.blocks ?? []).map(({ what, look, r, z }) => [what, nameOf(state, side), look, r[0], r[1], z[0], z[1]]),
  );
  return { heads: ["block", "cell", "drawn as", "radius from, mm", "to, mm", "height from, mm", "to, mm"], rows };
}
