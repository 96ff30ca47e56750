/** What materials look like: a colour and a pattern each, so that neither is needed to know them apart. */
import { svg, type SVGTemplateResult } from "../template";

export type Look = "steel" | "copper" | "aluminium" | "nickel" | "anode" | "cathode" | "roll" | "separator" | "polymer" | "space";

interface Drawn {
  name: string;
  /** Size of the repeated tile, px. */
  tile: [number, number];
  turn?: number;
  /** [path, stroke width, colour]. */
  lines: [string, number, string][];
}

const DRAWN: Record<Look, Drawn> = {
  steel: { name: "steel", tile: [6, 6], turn: 45, lines: [["M0 0V6", 1.6, "steel-line"]] },
  copper: { name: "copper", tile: [4, 4], turn: -45, lines: [["M0 0V4", 1.4, "copper-line"]] },
  aluminium: { name: "aluminium", tile: [5, 5], lines: [["M0 2.5H5", 1, "aluminium-line"]] },
  nickel: { name: "nickel", tile: [6, 6], lines: [["M1 3H3.4", 1.4, "nickel-line"]] },
  anode: { name: "anode coating", tile: [6, 6], lines: [["M1.5 1.5h1.6M4.5 4.5h1.6", 1.6, "anode-line"]] },
  cathode: { name: "cathode coating", tile: [5, 5], turn: 45, lines: [["M0 2.5H5M2.5 0V5", 0.7, "cathode-line"]] },
  roll: {
    name: "wound electrodes",
    tile: [7, 10],
    lines: [["M0.9 0V10", 1.8, "cathode"], ["M2.5 0V10", 0.9, "aluminium"], ["M4.4 0V10", 1.8, "anode"], ["M6 0V10", 0.9, "copper"]],
  },
  separator: { name: "separator", tile: [4, 4], lines: [["M1 2H2", 1, "separator-line"]] },
  polymer: { name: "polymer", tile: [6, 6], turn: 45, lines: [["M0 3H6M3 0V6", 0.9, "polymer-line"]] },
  space: { name: "empty", tile: [8, 8], turn: 45, lines: [["M0 4H3", 0.7, "space-line"]] },
};

export const nameOf = (look: Look): string => DRAWN[look].name;

/** `fill` or `stroke` for a look; `set` keeps the patterns of two pictures apart. */
export const fill = (set: string, look: Look): string => `url(#${set}-${look})`;

/** The plain colour of a look, where a pattern would be finer than a pixel. */
export const ground = (look: Look): string => `var(--${look})`;

/** Patterns for the looks; `scale` is user units per px, `at` a place from which they are laid. */
export function hatches(set: string, looks: Iterable<Look>, scale = 1): SVGTemplateResult[] {
  return [...new Set(looks)].map((look) => {
    const { tile, turn = 0, lines } = DRAWN[look];
    return svg`<pattern id=${`${set}-${look}`} width=${tile[0]} height=${tile[1]} patternUnits="userSpaceOnUse"
      patternTransform=${`scale(${scale}) rotate(${turn})`}><rect width=${tile[0]} height=${tile[1]} fill=${ground(look)} />${lines.map(
        ([path, width, colour]) => svg`<path d=${path} stroke=${`var(--${colour})`} stroke-width=${width} fill="none" />`,
      )}</pattern>`;
  });
}

/** Diagonal lines with nothing between them, to lay over a drawing. */
export function overlay(id: string, colour: string): SVGTemplateResult {
  return svg`<pattern id=${id} width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
    <path d="M0 0V7" stroke=${colour} stroke-width="4" fill="none" /></pattern>`;
}
