/** Voltage against capacity of both cells, at open circuit and under load, with what was measured laid over them. */
import { html, nothing, svg, type SVGTemplateResult, type TemplateResult } from "../template";
import { axisBelow, axisLeft } from "../draw/axis";
import { scale, through } from "../draw/scale";
import type { Side } from "../entry";
import type { Curve, Figure } from "../model/contract";
import type { Page } from "../page";
import { estimateOf } from "../state";
import { picture } from "./frame";
import { plot, spoken, type Reading } from "./plot";
import { heard } from "./table";
import { cellName, cut, nameOf } from "./words";

/** Told apart without their colours. */
const DASH: Record<Side, string> = { first: "none", second: "9 4" };
const READINGS = 120;

interface Traces {
  side: Side;
  curve: Curve;
  /** Capacity with its interval. */
  known: Figure | undefined;
}

/** Two columns of numbers, Ah and V, however they are parted; lines without both are passed over. */
export function dischargeFrom(text: string): { points: [number, number][]; passed: number } {
  const points: [number, number][] = [];
  let passed = 0;
  for (const line of text.split(/\r?\n/)) {
    if (line.trim() === "" || /^\s*(#|sep=)/.test(line)) continue;
    // A comma parts columns where there is no other mark, and is a decimal mark where there is.
    const cells = /[;\t]/.test(line) ? line.split(/[;\t]/).map((cell) => cell.replace(",", ".")) : line.trim().split(/[,\s]+/);
    const [taken, volts] = cells.map((cell) => (cell.trim() === "" ? NaN : Number(cell)));
    if (taken !== undefined && volts !== undefined && Number.isFinite(taken) && Number.isFinite(volts)) points.push([taken, volts]);
    else passed++;
  }
  return { points, passed };
}

export function curve(page: Page): TemplateResult | typeof nothing {
  const { state } = page;
  const traces = (["first", "second"] as const).flatMap((side): Traces[] => {
    const estimate = estimateOf(state, side);
    return estimate?.curve ? [{ side, curve: estimate.curve, known: estimate.headline.find(({ id }) => id === "capacity")?.figure }] : [];
  });
  if (traces.length === 0) return nothing;
  const { electrodes } = state.shown;
  const measured = dischargeFrom(state.discharge);
  return picture(page, {
    id: "curve",
    title: "Voltage against capacity, at open circuit and under load",
    controls: html`<div class="controls"><label class="check"><input type="checkbox" .checked=${electrodes} @change=${() => page.show({ electrodes: !electrodes })} /> with each electrode against lithium</label></div>`,
    drawing: draw(page, traces, electrodes, measured.points),
    caption: html`The length of a curve is the capacity, the area under it the energy. The thin line is the cell under its stated load. Shaded: the curve drawn out to either end of the 95 % interval of its capacity.
      ${traces.map(({ side, curve: { ends } }) => (ends.length > 0 ? html`<br />${cellName(state, side)}: ${ends.join(" ")}` : nothing))}${over(page, measured)}`,
    behind: () => ({
      heads: ["cell", "discharged, Ah", "cell, V", "cathode against lithium, V", "anode against lithium, V", "discharged under load, Ah", "cell under load, V"],
      rows: traces.flatMap(({ side, curve: { capacity, voltage, cathode, anode, loaded_capacity, loaded_voltage } }) =>
        capacity.map((taken, i) => [nameOf(state, side), taken, voltage[i] ?? null, cathode[i] ?? null, anode[i] ?? null, loaded_capacity[i] ?? null, loaded_voltage[i] ?? null]),
      ),
    }),
  });
}

/** The field that a measured discharge is pasted into. */
function over(page: Page, { points, passed }: ReturnType<typeof dischargeFrom>): TemplateResult {
  const { discharge } = page.state;
  return html`<div class="unprinted"><label for="discharge">A measured discharge, two columns: Ah discharged, V</label>
    <textarea id="discharge" rows="3" spellcheck="false" wrap="off" .value=${discharge} @input=${heard((text) => page.set({ discharge: text }, "a measured discharge", "discharge"))} @blur=${() => page.rest()}></textarea>
    ${discharge.trim() ? html`<p>${points.length} points drawn${passed ? `; ${passed} lines without two numbers passed over` : ""}.</p>` : nothing}</div>`;
}

function draw(page: Page, traces: Traces[], electrodes: boolean, measured: [number, number][]): TemplateResult {
  const { narrow } = page.state.shown;
  const [width, height] = narrow ? [340, 320] : [700, 400];
  const edge = { top: 52, right: 16, below: 48, left: 36 };
  const volts = [...traces.flatMap(({ curve: c }) => [...c.voltage, ...c.loaded_voltage, ...(electrodes ? [...c.cathode, ...c.anode] : [])]), ...measured.map(([, v]) => v)];
  const stretch = ({ curve: c, known }: Traces, end: "low" | "high"): number => (known?.[end] && known.value > 0 ? known[end] / known.value : 1) * (c.capacity.at(-1) ?? 0);
  const most = Math.max(...traces.map((one) => stretch(one, "high")), ...measured.map(([taken]) => taken));
  const x = scale(0, most, edge.left, width - edge.right, narrow ? 5 : 8);
  const y = scale(electrodes ? 0 : Math.min(...volts), Math.max(...volts), height - edge.below, edge.top, 6);
  const lines = traces.map((one, i) => {
    const { side, curve: c, known } = one;
    const path = (of: number[]): string => through(of.map((v, at) => [x(c.capacity[at] ?? 0), y(v)] as const));
    const thin = (of: number[], name: string): SVGTemplateResult => {
      const at = Math.floor(of.length * (0.3 + 0.34 * i));
      return svg`<path d=${path(of)} stroke=${`var(--${side})`} stroke-width="1" stroke-dasharray=${DASH[side]} fill="none" />
        <text class=${side} x=${x(c.capacity[at] ?? 0)} y=${y(of[at] ?? 0) - 7} text-anchor="middle">${name}</text>`;
    };
    const key = edge.left + i * (narrow ? 150 : 260);
    const ends = known?.low !== undefined && known.high !== undefined && known.value > 0 ? [known.low / known.value, known.high / known.value] : null;
    // The band lies between the curve drawn to either end: out along the one, back along the other.
    const band = ends ? `${through(c.capacity.map((taken, at) => [x(taken * (ends[0] ?? 1)), y(c.voltage[at] ?? 0)] as const))}L${through(c.capacity.map((taken, at) => [x(taken * (ends[1] ?? 1)), y(c.voltage[at] ?? 0)] as const).reverse()).slice(1)}Z` : "";
    return svg`<path d=${band} fill=${`var(--${side})`} fill-opacity="0.16" /><path data-side=${side} d=${path(c.voltage)} stroke=${`var(--${side})`} stroke-width="2.2" stroke-dasharray=${DASH[side]} stroke-linejoin="round" fill="none" />
      <path d=${through(c.loaded_voltage.map((v, at) => [x(c.loaded_capacity[at] ?? 0), y(v)] as const))} stroke=${`var(--${side})`} stroke-width="1" stroke-opacity="0.8" stroke-dasharray=${DASH[side]} fill="none" />
      ${electrodes ? [thin(c.cathode, "cathode"), thin(c.anode, "anode")] : nothing}
      <path d=${`M${key} 12h30`} stroke=${`var(--${side})`} stroke-width="2.2" stroke-dasharray=${DASH[side]} fill="none" /><text class="strong ${side}" x=${key + 38} y="16">${cut(nameOf(page.state, side), narrow ? 14 : 26)}</text>`;
  });
  const points = measured.filter((_, i) => i % Math.ceil(measured.length / 400 || 1) === 0);
  const drawing = svg`${axisLeft(y, edge.left, width - edge.right, "V")}${axisBelow(x, height - edge.below, "Ah discharged since full charge")}${lines}
    ${points.map(([taken, v]) => svg`<circle class="measured" cx=${x(taken)} cy=${y(v)} r="1.8" fill="var(--warn)" />`)}`;
  const at = (i: number): Reading => {
    const taken = (most * i) / (READINGS - 1);
    const values = traces.flatMap(({ side, curve: c }) => {
      const v = along(c.capacity, c.voltage, taken);
      return v === null ? [] : [{ side, v }];
    });
    return {
      marks: values.length > 0 ? values.map(({ side, v }) => ({ x: x(taken), y: y(v), colour: `var(--${side})` })) : [{ x: x(taken), y: y(Math.min(...volts)) }],
      across: { from: edge.top, to: height - edge.below },
      words: `${spoken(taken, "Ah", 3)} discharged: ${values.map(({ side, v }) => `${nameOf(page.state, side)} ${spoken(v, "V")}`).join(", ") || "beyond either cell"}`,
    };
  };
  return plot(page, { id: "curve", width, height, drawing, steps: READINGS, at, kind: "curve" });
}

/** The value at a place along a tabulated line. */
function along(xs: number[], ys: number[], at: number): number | null {
  const i = xs.findIndex((x) => x >= at);
  if (i < 0) return null;
  const [x0 = 0, x1 = 0, y0 = 0, y1 = 0] = [xs[i - 1] ?? xs[i], xs[i], ys[i - 1] ?? ys[i], ys[i]];
  return x1 > x0 ? y0 + ((y1 - y0) * (at - x0)) / (x1 - x0) : y1;
}
