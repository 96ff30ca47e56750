/** A place of a drawing that can be taken and moved along one way, by hand or by the arrow keys. Knows nothing of what it moves. */
import { svg, type SVGTemplateResult } from "../template";

export interface Grip {
  /** Stable name, for tests and for the focus. */
  id: string;
  x: number;
  y: number;
  along: "x" | "y";
  /** What moves, for those who do not see it. */
  label: string;
  value: number;
  text: string;
  low: number;
  high: number;
  step: number;
  /** Drawing units for one unit of the value; negative where it grows leftwards or upwards. */
  scale: number;
  colour: string;
  /** Called once before a movement. */
  begin: () => void;
  move: (value: number) => void;
  end: () => void;
}

/** Half the side of what can be hit, px of the drawing. */
const REACH = 13;

export function grip(handle: Grip): SVGTemplateResult {
  const { id, x, y, along, label, value, text, low, high, step, scale, colour, begin, move, end } = handle;
  // Where it was moved to, until it is drawn there: keys may come faster than that.
  let now = value;
  const within = (wanted: number): number => Math.min(high, Math.max(low, Math.round(wanted / step) * step));
  const down = (event: PointerEvent): void => {
    const held = event.currentTarget as SVGGElement;
    event.preventDefault();
    event.stopPropagation();
    held.focus();
    held.setPointerCapture(event.pointerId);
    const matrix = held.ownerSVGElement?.getScreenCTM();
    const perPixel = 1 / (matrix?.a || 1);
    begin();
    const drag = (to: PointerEvent): void => {
      const by = (along === "x" ? to.clientX - event.clientX : to.clientY - event.clientY) * perPixel;
      move(within(value + by / scale));
    };
    const up = (): void => {
      held.removeEventListener("pointermove", drag);
      held.removeEventListener("pointerup", up);
      held.removeEventListener("pointercancel", up);
      end();
    };
    held.addEventListener("pointermove", drag);
    held.addEventListener("pointerup", up);
    held.addEventListener("pointercancel", up);
  };
  const key = (event: KeyboardEvent): void => {
    const by = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: 10, PageDown: -10 }[event.key];
    if (by === undefined) return;
    event.preventDefault();
    begin();
    now = within(now + by * step);
    move(now);
    end();
  };
  return svg`<g class="grip ${along}" data-grip=${id} role="slider" tabindex="0" aria-label=${label} aria-orientation=${along === "x" ? "horizontal" : "vertical"}
      aria-valuemin=${low} aria-valuemax=${high} aria-valuenow=${value} aria-valuetext=${text} @pointerdown=${down} @keydown=${key}>
    <title>${label}: ${text}</title>
    <rect x=${x - REACH} y=${y - REACH} width=${2 * REACH} height=${2 * REACH} fill="transparent" />
    <path d=${along === "x" ? `M${x - 6} ${y}l4 -5v10zM${x + 6} ${y}l-4 -5v10z` : `M${x} ${y - 6}l-5 4h10zM${x} ${y + 6}l-5 -4h10z`} fill=${colour} stroke="var(--paper)" stroke-width="1" />
  </g>`;
}
