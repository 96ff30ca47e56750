/** Plain axes: few ticks, no frame. */
import { svg, type SVGTemplateResult } from "../template";
import type { Scale } from "./scale";

export function axisBelow(scale: Scale, y: number, label: string): SVGTemplateResult {
  return svg`<g class="axis"><path d=${`M${scale.from} ${y}H${scale.to}`} stroke="var(--soft)" fill="none" />${scale.ticks.map(
    (tick) => svg`<path d=${`M${scale(tick)} ${y}v6`} stroke="var(--soft)" fill="none" /><text x=${scale(tick)} y=${y + 20} text-anchor="middle">${scale.words(tick)}</text>`,
  )}<text x=${scale.to} y=${y + 38} text-anchor="end">${label}</text></g>`;
}

export function axisLeft(scale: Scale, x: number, to: number, label: string): SVGTemplateResult {
  return svg`<g class="axis">${scale.ticks.map(
    (tick) => svg`<path d=${`M${x} ${scale(tick)}H${to}`} stroke="var(--line)" fill="none" /><text x=${x - 8} y=${scale(tick) + 4} text-anchor="end">${scale.words(tick)}</text>`,
  )}<text x=${label.length > 6 ? 0 : x - 8} y=${scale.to - 14} text-anchor=${label.length > 6 ? "start" : "end"}>${label}</text></g>`;
}
