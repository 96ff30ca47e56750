/** Discharge of both cells, at open circuit and under load. */
import { html, nothing, svg, type SVGTemplateResult, type TemplateResult } from "lit-html";
import { axisBelow, axisLeft } from "../draw/axis";
import { scale, through } from "../draw/scale";
import type { Side } from "../entry";
import type { Curve } from "../model/contract";
import type { Page } from "../page";
import { estimateOf } from "../state";
import { picture } from "./frame";
import { cellName, cut, nameOf } from "./words";

/** Told apart without their colours. */
const DASH: Record<Side, string> = { first: "none", second: "9 4" };

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
    title: "Discharge at open circuit and under load",
    controls: html`<div class="controls"><label class="check"><input type="checkbox" .checked=${electrodes} @change=${() => page.show({ electrodes: !electrodes })} /> with each electrode against lithium</label></div>`,
    drawing: draw(page, told, electrodes),
    caption: html`The length of a curve is the capacity, the area under it the energy. The thin line is the cell under its stated load.
      ${told.map(({ side, curve: { ends } }) => (ends.length > 0 ? html`<br />${cellName(state, side)}: ${ends.join(" ")}` : nothing))}`,
    behind: () => ({
      heads: ["cell", "taken out, Ah", "cell, V", "cathode against lithium, V", "anode against lithium, V", "taken out under load, Ah", "cell under load, V"],
      rows: told.flatMap(({ side, curve: { capacity, voltage, cathode, anode, loaded_capacity, loaded_voltage } }) =>
        capacity.map((taken, i) => [nameOf(state, side), taken, voltage[i] ?? null, cathode[i] ?? null, anode[i] ?? null, loaded_capacity[i] ?? null, loaded_voltage[i] ?? null]),
      ),
    }),
  });
}

function draw(page: Page, told: Told[], electrodes: boolean): TemplateResult {
  const { narrow } = page.state.shown;
  const [width, height] = narrow ? [340, 320] : [1120, 400];
  const edge = { top: 52, right: 16, below: 48, left: 36 };
  const volts = told.flatMap(({ curve: c }) => [...c.voltage, ...c.loaded_voltage, ...(electrodes ? [...c.cathode, ...c.anode] : [])]);
  const most = Math.max(...told.flatMap(({ curve: c }) => c.capacity));
  const x = scale(0, most, edge.left, width - edge.right, narrow ? 5 : 10);
  const y = scale(electrodes ? 0 : Math.min(...volts), Math.max(...volts), height - edge.below, edge.top, 6);
  const lines = told.map(({ side, curve: c }, i) => {
    const path = (of: number[]): string => through(of.map((v, at) => [x(c.capacity[at] ?? 0), y(v)] as const));
    const thin = (of: number[], name: string): SVGTemplateResult => {
      const at = Math.floor(of.length * (0.3 + 0.34 * i));
      return svg`<path d=${path(of)} stroke=${`var(--${side})`} stroke-width="1" stroke-dasharray=${DASH[side]} fill="none" />
        <text class=${side} x=${x(c.capacity[at] ?? 0)} y=${y(of[at] ?? 0) - 7} text-anchor="middle">${name}</text>`;
    };
    const key = edge.left + i * (narrow ? 150 : 220);
    return svg`<path data-side=${side} d=${path(c.voltage)} stroke=${`var(--${side})`} stroke-width="2.2" stroke-dasharray=${DASH[side]} stroke-linejoin="round" fill="none" />
      <path d=${through(c.loaded_voltage.map((v, at) => [x(c.loaded_capacity[at] ?? 0), y(v)] as const))} stroke=${`var(--${side})`} stroke-width="1" stroke-opacity="0.8" stroke-dasharray=${DASH[side]} fill="none" />
      ${electrodes ? [thin(c.cathode, "cathode"), thin(c.anode, "anode")] : nothing}
      <path d=${`M${key} 12h30`} stroke=${`var(--${side})`} stroke-width="2.2" stroke-dasharray=${DASH[side]} fill="none" /><text class="strong ${side}" x=${key + 38} y="16">${cut(nameOf(page.state, side), narrow ? 14 : 24)}</text>`;
  });
  return html`<svg class="picture curve" viewBox="0 0 ${width} ${height}" role="img" aria-labelledby="curve-title">
    ${axisLeft(y, edge.left, width - edge.right, "V")}${axisBelow(x, height - edge.below, "Ah taken out since full charge")}${lines}
  </svg>`;
}
