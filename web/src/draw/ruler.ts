/** Millimetre rulers and scale bars. */
import { svg, type SVGTemplateResult } from "../template";

/** 1, 2 or 5 times a power of ten, at most `most`. */
export function round125(most: number): number {
  const ten = 10 ** Math.floor(Math.log10(most));
  return ([5, 2, 1].find((times) => times * ten <= most) ?? 1) * ten;
}

/** An upright ruler: 0 mm at `zero` px, upwards, `scale` px per mm. */
export function rulerUp(x: number, zero: number, scale: number, length: number): SVGTemplateResult {
  const step = round125(60 / scale);
  const minor = step / 5;
  let ticks = `M${x} ${zero}V${zero - length * scale}`;
  const marks: SVGTemplateResult[] = [];
  for (let i = 0; i * minor <= length + 1e-9; i++) {
    const y = zero - i * minor * scale;
    ticks += `M${x} ${y}h${i % 5 === 0 ? -7 : -3.5}`;
    if (i % 5 === 0) marks.push(svg`<text x=${x - 10} y=${y + 4} text-anchor="end">${tidy(i * minor)}</text>`);
  }
  return svg`<g class="ruler"><path d=${ticks} fill="none" stroke="var(--soft)" />${marks}</g>`;
}

/** A lying ruler from the axis both ways, 0 mm at `zero` px. */
export function rulerAcross(zero: number, y: number, scale: number, left: number, right: number): SVGTemplateResult {
  const step = round125(Math.min(60 / scale, Math.max(left, right)));
  const minor = step / 5;
  let ticks = `M${zero - left * scale} ${y}H${zero + right * scale}`;
  const marks: SVGTemplateResult[] = [];
  for (const [length, way] of [[left, -1], [right, 1]] as const) {
    for (let i = 0; i * minor <= length + 1e-9; i++) {
      const x = zero + way * i * minor * scale;
      ticks += `M${x} ${y}v${i % 5 === 0 ? 7 : 3.5}`;
      if (i % 5 === 0 && (i > 0 || way === 1)) marks.push(svg`<text x=${x} y=${y + 19} text-anchor="middle">${tidy(i * minor)}</text>`);
    }
  }
  return svg`<g class="ruler"><path d=${ticks} fill="none" stroke="var(--soft)" />${marks}</g>`;
}

/** A bar of a round length, at most `most` px long. */
export function scaleBar(x: number, y: number, scale: number, most: number): SVGTemplateResult {
  const length = round125(most / scale);
  return svg`<g class="scale-bar"><rect x=${x - 6} y=${y - 20} width=${length * scale + 12} height="30" fill="var(--paper)" fill-opacity="0.88" />
    <path d=${`M${x} ${y - 4}v8M${x} ${y}h${length * scale}m0 -4v8`} fill="none" stroke="var(--ink)" stroke-width="1.5" />
    <text x=${x + (length * scale) / 2} y=${y - 7} text-anchor="middle">${tidy(length)} mm</text></g>`;
}

const tidy = (value: number): string => String(Number(value.toPrecision(6)));
