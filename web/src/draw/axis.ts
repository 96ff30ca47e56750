/** Plain axes: few ticks, no frame. */
import type { ScaleLinear } from "d3-scale";
import { svg, type SVGTemplateResult } from "lit-html";

type Scale = ScaleLinear<number, number>;

export function axisBelow(scale: Scale, y: number, label: string, count: number): SVGTemplateResult {
  const [from = 0, to = 0] = scale.range();
  const words = scale.tickFormat(count);
  return svg`<g class="axis"><path d=${`M${from} ${y}H${to}`} stroke="var(--soft)" fill="none" />${scale.ticks(count).map(
    (tick) => svg`<path d=${`M${scale(tick)} ${y}v6`} stroke="var(--soft)" fill="none" /><text x=${scale(tick)} y=${y + 20} text-anchor="middle">${words(tick)}</text>`,
  )}<text x=${to} y=${y + 38} text-anchor="end">${label}</text></g>`;
}

export function axisLeft(scale: Scale, x: number, to: number, label: string, count: number): SVGTemplateResult {
  const words = scale.tickFormat(count);
  const top = scale.range()[1] ?? 0;
  return svg`<g class="axis">${scale.ticks(count).map(
    (tick) => svg`<path d=${`M${x} ${scale(tick)}H${to}`} stroke="var(--line)" fill="none" /><text x=${x - 8} y=${scale(tick) + 4} text-anchor="end">${words(tick)}</text>`,
  )}<text x=${x - 8} y=${top - 12} text-anchor="start" dx="-24">${label}</text></g>`;
}
