/** Swatches of looks with their names, in rows as wide as the picture. */
import { svg, type SVGTemplateResult } from "../template";
import { fill, nameOf, type Look } from "./hatch";

const ROW = 20;
const SWATCH = 24;

export function legend(set: string, looks: Iterable<Look>, at: { x: number; y: number; width: number }): { drawn: SVGTemplateResult; height: number } {
  let x = at.x;
  let y = at.y;
  const drawn = [...new Set(looks)].map((look) => {
    const width = SWATCH + 8 + nameOf(look).length * 6.6 + 14;
    if (x > at.x && x + width > at.x + at.width) {
      x = at.x;
      y += ROW;
    }
    const here = svg`<rect x=${x} y=${y} width=${SWATCH} height="12" fill=${fill(set, look)} stroke="var(--ink)" stroke-width="0.5" />
      <text x=${x + SWATCH + 6} y=${y + 10.5}>${nameOf(look)}</text>`;
    x += width;
    return here;
  });
  return { drawn: svg`<g class="legend">${drawn}</g>`, height: y + ROW - at.y };
}
