/** Open-circuit discharge of both cells. */
import { scaleLinear } from "d3-scale";
import { line } from "d3-shape";
import { html, nothing, svg, type SVGTemplateResult, type TemplateResult } from "lit-html";
import { axisBelow, axisLeft } from "../draw/axis";
import type { Side } from "../entry";
import type { Curve } from "../model/contract";
import type { Page } from "../page";
import { estimateOf } from "../state";
import { picture } from "./frame";
import { cellName, cut, nameOf } from "./words";

interface Told {
  side: Side;
  curve: Curve;
}

export function curve(page: Page): TemplateResult | typeof nothing {
  const { state } = page;
  const told = (["first", "second"] as const).flatMap((side): Told[] => {
    const found = estimateOf(state, side)?.curve;
    return found ? [{ side, curve: found }] : [];
  });
  if (told.length === 0) return nothing;
  const { electrodes } = state.shown;
  return picture(page, {
    id: "curve",
    title: "Discharge at open circuit",
    controls: html`<div class="controls"><label class="check"><input type="checkbox" .checked=${electrodes} @change=${() => page.show({ electrodes: !electrodes })} /> with each electrode against lithium</label></div>`,
    drawing: draw(page, told, electrodes),
    caption: html`The length of a curve is the capacity, the area under it the energy.
      ${told.map(({ side, curve: { ends } }) => (ends.length > 0 ? html`<br />${cellName(state, side)}: ${ends.join(" ")}` : nothing))}`,
    behind: () => ({
      heads: ["cell", "taken out, Ah", "cell, V", "cathode against lithium, V", "anode against lithium, V"],
      rows: told.flatMap(({ side, curve: { capacity, voltage, cathode, anode } }) =>
        capacity.map((taken, i) => [nameOf(state, side), taken, voltage[i] ?? null, cathode[i] ?? null, anode[i] ?? null]),
      ),
    }),
  });
}

function draw(page: Page, told: Told[], electrodes: boolean): TemplateResult {
  const { narrow } = page.state.shown;
  const width = narrow ? 340 : 760;
  const height = narrow ? 300 : 380;
  const edge = { top: 34, right: narrow ? 14 : 110, below: 48, left: 36 };
  const all = told.flatMap(({ curve: c }) => [...c.voltage, ...(electrodes ? [...c.cathode, ...c.anode] : [])]);
  const x = scaleLinear([0, Math.max(...told.flatMap(({ curve: c }) => c.capacity))], [edge.left, width - edge.right]).nice();
  const y = scaleLinear([electrodes ? 0 : Math.min(...all), Math.max(...all)], [height - edge.below, edge.top]).nice();
  const lines = told.flatMap(({ side, curve: c }, i) => {
    const path = (volts: number[]): string => line<number>((_, at) => x(c.capacity[at] ?? 0), (v) => y(v))(volts) ?? "";
    const dash = i === 0 ? "none" : "9 4";
    const colour = `var(--${side})`;
    const thin = (volts: number[], name: string): SVGTemplateResult => {
      const at = Math.floor(volts.length * (0.32 + 0.3 * i));
      return svg`<path d=${path(volts)} stroke=${colour} stroke-width="1" stroke-dasharray=${i === 0 ? "none" : "9 4"} fill="none" />
        <text class=${side} x=${x(c.capacity[at] ?? 0)} y=${y(volts[at] ?? 0) - 7} text-anchor="middle">${name}</text>`;
    };
    const last = c.capacity.length - 1;
    return [
      svg`<path data-side=${side} d=${path(c.voltage)} stroke=${colour} stroke-width="2.2" stroke-dasharray=${dash} stroke-linejoin="round" fill="none" />`,
      narrow ? nothing : svg`<text class="strong ${side}" x=${x(c.capacity[last] ?? 0) + 8} y=${y(c.voltage[last] ?? 0) - (i === 0 ? 0 : 18)}>${cut(nameOf(page.state, side), 16)}</text>`,
      electrodes ? [thin(c.cathode, "cathode"), thin(c.anode, "anode")] : nothing,
    ];
  });
  return html`<svg class="picture curve ${narrow ? "small" : ""}" viewBox="0 0 ${width} ${height}" role="img" aria-labelledby="curve-title">
    ${axisLeft(y, edge.left, width - edge.right, "V", 5)}${axisBelow(x, height - edge.below, "Ah taken out since full charge", narrow ? 4 : 8)}
    ${narrow ? told.map(({ side }, i) => svg`<path d=${`M${edge.left + 24 + i * 150} 12h24`} stroke=${`var(--${side})`} stroke-width="2.2" stroke-dasharray=${i === 0 ? "none" : "9 4"} /><text class="strong ${side}" x=${edge.left + 54 + i * 150} y="16">${cut(nameOf(page.state, side), 14)}</text>`) : nothing}
    ${lines}
  </svg>`;
}
