/** Where grams and cubic centimetres go: a bar of the whole for each cell, cut by what is in it. */
import { html, nothing, svg, type SVGTemplateResult, type TemplateResult } from "../template";
import { axisBelow } from "../draw/axis";
import { fill, hatches, type Look } from "../draw/hatch";
import { scale } from "../draw/scale";
import type { Group } from "../model/contract";
import type { Page } from "../page";
import { estimateOf, sidesOf } from "../state";
import { picture } from "./frame";
import { plot, spoken, type Reading } from "./plot";
import { cut, nameOf } from "./words";

const LOOKS: Record<Group, Look> = { cathode: "cathode", anode: "anode", separator: "separator", electrolyte: "polymer", enclosure: "steel", space: "space" };
const KINDS = [["mass", "g"], ["volume", "cm³"]] as const;

export function budget(page: Page): TemplateResult | typeof nothing {
  const { state } = page;
  const sides = sidesOf(state).filter((side) => estimateOf(state, side));
  if (sides.length === 0) return nothing;
  const { narrow } = state.shown;
  const [width, row, panel] = [narrow ? 340 : 700, 34, 40 + 34 * sides.length + 52];
  const height = 2 * panel;
  const readings: Reading[] = [];
  const drawn: SVGTemplateResult[] = [];
  KINDS.forEach(([kind, unit], k) => {
    const totals = sides.map((side) => (estimateOf(state, side)?.ledger.totals ?? []).filter(({ group, ...one }) => group !== "cell" && one[kind]));
    const most = Math.max(...totals.map((some) => some.reduce((sum, one) => sum + one[kind].value, 0)));
    const x = scale(0, most, 8, width - 8, narrow ? 4 : 8);
    const top = k * panel;
    drawn.push(svg`<text class="strong" x="8" y=${top + 14}>${kind}, ${unit}</text>`);
    sides.forEach((side, i) => {
      const y = top + 24 + i * row;
      const whole = (totals[i] ?? []).reduce((sum, one) => sum + one[kind].value, 0);
      let at = 0;
      for (const total of totals[i] ?? []) {
        const value = total[kind].value;
        if (!(value > 0)) continue;
        const [left, right] = [x(at), x(at + value)];
        const group = total.group as Group;
        drawn.push(svg`<rect x=${left} y=${y} width=${right - left} height="22" fill=${group === "space" ? "var(--space)" : fill("budget", LOOKS[group] as Exclude<Look, "space">)} stroke="var(--block-edge)" stroke-width="0.6" />`);
        readings.push({ marks: [{ x: (left + right) / 2, y: y + 11, colour: `var(--${side})` }], words: `${nameOf(state, side)}, ${group}: ${total[kind].text}, ${spoken((100 * value) / whole, "%", 3)} of the cell` });
        at += value;
      }
      drawn.push(svg`<path d=${`M4 ${y}v22`} stroke=${`var(--${side})`} stroke-width="3" />`);
    });
    drawn.push(axisBelow(x, top + 28 + sides.length * row, unit));
  });
  const looks = Object.values(LOOKS).filter((look): look is Exclude<Look, "space"> => look !== "space");
  const key = html`<p class="key">${(Object.keys(LOOKS) as Group[]).map((group) => html`<span><svg class="swatch" width="22" height="12" aria-hidden="true">${svg`<defs>${hatches(`key-${group}`, looks)}</defs><rect width="22" height="12" fill=${group === "space" ? "var(--space)" : fill(`key-${group}`, LOOKS[group] as Exclude<Look, "space">)} stroke="var(--block-edge)" />`}</svg> ${group}</span>`)}</p>`;
  return picture(page, {
    id: "budget",
    title: sides.length > 1 ? "Both cells by what is in them" : "The cell by what is in it",
    drawing: html`${plot(page, { id: "budget", width, height, steps: readings.length, at: (i) => readings[i] as Reading, drawing: svg`<defs>${hatches("budget", looks)}</defs>${drawn}` })}${key}`,
    caption: html`${sides.map((side, i) => html`${i ? "; lower bars: " : sides.length > 1 ? "Upper bars: " : ""}<span class=${side}><bdi>${cut(nameOf(state, side), 40)}</bdi></span>`)}. Each bar is the whole cell.`,
    behind: () => ({ heads: ["cell", "group", "mass, g", "volume, cm³"], rows: sides.flatMap((side) => (estimateOf(state, side)?.ledger.totals ?? []).map(({ group, mass, volume }) => [nameOf(state, side), group, mass.value, volume.value])) }),
  });
}
