/** A plot whose values can be read: by pointing, by touch, and by the arrow keys. */
import { html, nothing, svg, type SVGTemplateResult, type TemplateResult } from "../template";
import type { Page } from "../page";

/** What stands at one step of a plot: where it is marked, and in words with units. */
export interface Reading {
  marks: { x: number; y: number; colour?: string }[];
  /** Draws a line across the plot there. */
  across?: { from: number; to: number };
  words: string;
}

export interface Plot {
  id: string;
  width: number;
  height: number;
  drawing: unknown;
  /** How many places can be read. */
  steps: number;
  at: (step: number) => Reading;
  /** Steps above one another, for maps: the arrow keys up and down then move by so many. */
  row?: number;
  /** What a click or the enter key does. */
  choose?: (step: number) => void;
  kind?: string;
}

export function plot(page: Page, { id, width, height, drawing, steps, at, row, choose, kind = "" }: Plot): TemplateResult {
  const { cursor } = page.state.shown;
  const now = Math.min(cursor[id] ?? -1, steps - 1);
  const reading = now >= 0 ? at(now) : null;
  const read = (step: number): void => {
    const within = Math.max(0, Math.min(steps - 1, step));
    if (within !== cursor[id]) page.show({ cursor: { ...page.state.shown.cursor, [id]: within } });
  };
  const nearest = (event: PointerEvent): number => {
    const held = event.currentTarget as SVGSVGElement;
    const box = held.getBoundingClientRect();
    const [x, y] = [((event.clientX - box.left) / box.width) * width, ((event.clientY - box.top) / box.height) * height];
    let [best, least] = [0, Infinity];
    for (let i = 0; i < steps; i++) {
      const { marks, across } = at(i);
      for (const mark of marks) {
        // Along a curve only the place along it counts.
        const far = across ? Math.abs(mark.x - x) : Math.hypot(mark.x - x, mark.y - y);
        if (far < least) [best, least] = [i, far];
      }
    }
    return best;
  };
  const onKey = (event: KeyboardEvent): void => {
    const by: Record<string, number> = { ArrowRight: 1, ArrowLeft: -1, ArrowUp: row ?? 1, ArrowDown: -(row ?? 1), PageUp: 10 * (row ?? 1), PageDown: -10 * (row ?? 1) };
    if (event.key in by) {
      event.preventDefault();
      read(now < 0 ? 0 : now + (by[event.key] ?? 0));
    } else if (event.key === "Home" || event.key === "End") {
      event.preventDefault();
      read(event.key === "Home" ? 0 : steps - 1);
    } else if (event.key === "Enter" && choose && now >= 0) choose(now);
  };
  const leave = (): void => {
    if (document.activeElement?.id !== `${id}-plot`) page.show({ cursor: { ...page.state.shown.cursor, [id]: -1 } });
  };
  return html`<svg class="picture plot ${kind}" id="${id}-plot" viewBox="0 0 ${width} ${height}" role="slider" tabindex="0" aria-labelledby="${id}-title"
      aria-valuemin="0" aria-valuemax=${Math.max(0, steps - 1)} aria-valuenow=${Math.max(0, now)} aria-valuetext=${reading?.words ?? "arrow keys read values"}
      @pointermove=${(event: PointerEvent) => read(nearest(event))} @pointerdown=${(event: PointerEvent) => read(nearest(event))} @pointerleave=${leave} @keydown=${onKey}
      @click=${() => choose && (cursor[id] ?? -1) >= 0 && choose(page.state.shown.cursor[id] ?? 0)}>
    ${drawing}
    ${reading ? pointer(reading) : nothing}
  </svg>
  <p class="readout" data-readout=${id}>${reading?.words ?? html`<span class="unprinted">Point at the plot, or use the arrow keys on it, to read values.</span>`}</p>`;
}

function pointer({ marks, across }: Reading): SVGTemplateResult {
  const first = marks[0];
  return svg`<g class="pointer">${across && first ? svg`<path d=${`M${first.x} ${across.from}V${across.to}`} stroke="var(--soft)" stroke-dasharray="3 3" fill="none" />` : nothing}
    ${marks.map(({ x, y, colour = "var(--ink)" }) => svg`<circle cx=${x} cy=${y} r="4.5" fill="var(--paper)" stroke=${colour} stroke-width="2" />`)}</g>`;
}

/** A number as it is read, with its unit. */
export const spoken = (value: number | null | undefined, unit: string, digits = 4): string =>
  value === null || value === undefined || !Number.isFinite(value) ? "none" : `${String(Number(value.toPrecision(digits))).replace("-", "−")}${unit ? ` ${unit}` : ""}`;
