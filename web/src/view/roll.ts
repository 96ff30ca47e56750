/** The jelly roll across the axis, every pass of every ply, zoomable down to the plies. */
import { html, nothing, svg, type TemplateResult } from "../template";
import { fill, ground, hatches, type Look } from "../draw/hatch";
import { legend } from "../draw/legend";
import { scaleBar } from "../draw/ruler";
import type { Side } from "../entry";
import type { Roll } from "../model/contract";
import type { Page } from "../page";
import { estimateOf, sidesOf, type Shown } from "../state";
import { picture } from "./frame";
import { cellName } from "./words";

const SET = "roll";
/** Patterns are drawn once a typical coating is this many px thick. */
const PATTERN_FROM = 9;
const STEP = 1.5;

type View = NonNullable<Shown["roll"]>;

const round = (value: number): string => value.toFixed(4);

/** Each ply is one path: all of its passes. Kept for as long as the roll is. */
const drawn = new WeakMap<Roll, string[]>();

function paths(roll: Roll): string[] {
  const kept = drawn.get(roll);
  if (kept) return kept;
  const made = roll.plies.map(() => "");
  for (const [ply, r, from, to] of roll.arcs) {
    // An arc of more than half a turn is drawn in pieces, since a full turn ends where it begins.
    const pieces = Math.max(1, Math.ceil((to - from) / 0.49));
    const place = (turn: number): string => `${round(r * Math.cos(2 * Math.PI * turn))} ${round(r * Math.sin(2 * Math.PI * turn))}`;
    let path = `M${place(from)}`;
    for (let i = 1; i <= pieces; i++) path += `A${round(r)} ${round(r)} 0 0 1 ${place(from + ((to - from) * i) / pieces)}`;
    made[ply] = (made[ply] ?? "") + path;
  }
  drawn.set(roll, made);
  return made;
}

/** At first a quarter: every turn is in it, and the turns can be told apart. */
const quarter = (side: Side, { bore }: Roll): View => ({ side, x: bore * 0.49, y: -bore * 0.49, across: bore * 1.08 });

export function roll(page: Page): TemplateResult | typeof nothing {
  const { state } = page;
  const asked = state.shown.roll?.side ?? "first";
  const side = estimateOf(state, asked) ? asked : "first";
  const wound = estimateOf(state, side)?.roll;
  if (!wound) return nothing;
  const view = state.shown.roll?.side === side ? state.shown.roll : quarter(side, wound);
  const move = (x: number, y: number, across: number): void => {
    const within = Math.min(Math.max(across, 0.3), wound.bore * 2.4);
    const hold = (place: number): number => Math.max(-wound.bore, Math.min(wound.bore, place));
    page.show({ roll: { side, x: hold(x), y: hold(y), across: within } });
  };
  const zoom = (by: number): void => move(view.x, view.y, view.across * by);
  const outer = { x: wound.outer * Math.SQRT1_2, y: -wound.outer * Math.SQRT1_2 };

  const tail = outerEnd(wound);

  const controls = html`<div class="controls">
    ${sidesOf(state).length > 1
      ? html`<fieldset class="radio"><legend class="unseen">Which cell's jelly roll</legend>${(["first", "second"] as const).map(
          (one) => html`<label><input type="radio" name="roll" .checked=${one === side} @change=${() => page.show(toSide(page, one))} />${cellName(state, one)}</label>`,
        )}</fieldset>`
      : nothing}
    <div class="buttons" role="group" aria-label="Look closer">
      <button type="button" @click=${() => zoom(1 / STEP)} aria-label="closer">+</button>
      <button type="button" @click=${() => zoom(STEP)} aria-label="further away">−</button>
      <button type="button" @click=${() => move(0, 0, wound.bore * 2.08)}>whole</button>
      <button type="button" @click=${() => page.show({ roll: quarter(side, wound) })}>quarter</button>
      <button type="button" @click=${() => move(0, 0, wound.core * 3)}>core</button>
      <button type="button" @click=${() => move(outer.x - 0.4, outer.y + 0.4, 2)}>plies</button>
      ${tail ? html`<button type="button" @click=${() => move(tail.x, tail.y, 4)}>outer end</button>` : nothing}
    </div>
  </div>`;

  return picture(page, {
    id: "roll",
    title: "The jelly roll across the axis",
    controls,
    drawing: draw(wound, view, state.shown.narrow ? 340 : 480, move),
    caption: html`Every turn of every ply of ${cellName(state, side)} is drawn at its own radius. It fills the can from the core hole to the radial clearance at the wall;
      closer, each ply shows. A pass keeps one radius for a whole turn, so a step marks where the next begins; a real jelly roll climbs evenly. <span class="unprinted">Drag, or + − and the arrow keys move the picture; so does the wheel once it is picked.</span>`,
    behind: () => ({
      heads: ["ply", "thickness, mm", "passes", "innermost mid-line, mm", "outermost mid-line, mm"],
      rows: wound.plies.map(({ name, thickness }, ply) => {
        const radii = wound.arcs.filter(([of]) => of === ply).map(([, r]) => r);
        return [name, thickness, radii.length, radii.length ? Math.min(...radii) : null, radii.length ? Math.max(...radii) : null];
      }),
    }),
  });
}

/** Where the anode ends, with the cathode's end a turn or less before it. */
function outerEnd(roll: Roll): { x: number; y: number } | null {
  const anode = roll.plies.findIndex(({ look }) => look === "anode");
  const last = roll.arcs.findLast(([ply]) => ply === anode);
  return last ? { x: last[1] * Math.cos(2 * Math.PI * last[3]), y: last[1] * Math.sin(2 * Math.PI * last[3]) } : null;
}

function toSide(page: Page, side: Side): Pick<Shown, "roll"> {
  const wound = estimateOf(page.state, side)?.roll;
  return { roll: wound ? quarter(side, wound) : null };
}

function draw(wound: Roll, view: View, size: number, move: (x: number, y: number, across: number) => void): TemplateResult {
  const scale = size / view.across;
  const thick = Math.max(...wound.plies.map(({ thickness }) => thickness));
  const patterned = thick * scale > PATTERN_FROM;
  const looks = wound.plies.flatMap(({ look, foil }) => (foil ? [look, foil.look] : [look])) as Look[];
  const stroke = (look: Look): string => (patterned ? fill(`${SET}-mm`, look) : ground(look));
  const key = legend(SET, looks, { x: 0, y: size + 14, width: size });
  const strokes = paths(wound);
  const onWheel = {
    handleEvent(event: WheelEvent): void {
      // Without a key held the wheel scrolls the page until the picture has the focus.
      if (!event.ctrlKey && document.activeElement !== event.currentTarget) return;
      event.preventDefault();
      const by = Math.exp(Math.max(-1, Math.min(1, event.deltaY / 240)));
      const box = (event.currentTarget as Element).getBoundingClientRect();
      const x = view.x + ((event.clientX - box.left) / box.width - 0.5) * view.across;
      const y = view.y + ((event.clientY - box.top) / box.width - 0.5) * view.across;
      move(x + (view.x - x) * by, y + (view.y - y) * by, view.across * by);
    },
    passive: false,
  };
  const onKey = (event: KeyboardEvent): void => {
    const way: Record<string, [number, number, number]> = {
      "+": [0, 0, 1 / STEP], "=": [0, 0, 1 / STEP], "-": [0, 0, STEP], "−": [0, 0, STEP],
      ArrowLeft: [-0.12, 0, 1], ArrowRight: [0.12, 0, 1], ArrowUp: [0, -0.12, 1], ArrowDown: [0, 0.12, 1],
    };
    const [dx, dy, by] = way[event.key] ?? [];
    if (dx === undefined || dy === undefined || by === undefined || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    move(view.x + dx * view.across, view.y + dy * view.across, view.across * by);
  };
  const onDown = (event: PointerEvent): void => {
    const held = event.currentTarget as SVGSVGElement;
    held.setPointerCapture(event.pointerId);
    const perPixel = view.across / held.getBoundingClientRect().width;
    const drag = (to: PointerEvent): void => move(view.x - (to.clientX - event.clientX) * perPixel, view.y - (to.clientY - event.clientY) * perPixel, view.across);
    const end = (): void => {
      held.removeEventListener("pointermove", drag);
      held.removeEventListener("pointerup", end);
      held.removeEventListener("pointercancel", end);
    };
    held.addEventListener("pointermove", drag);
    held.addEventListener("pointerup", end);
    held.addEventListener("pointercancel", end);
  };
  return html`<svg class="picture roll" viewBox="0 0 ${size} ${size + 14 + key.height}" role="application" tabindex="0" aria-labelledby="roll-title"
      aria-roledescription="drawing that can be moved" @wheel=${onWheel} @keydown=${onKey} @pointerdown=${onDown}>
    <defs>${hatches(SET, looks, 1)}${patterned ? hatches(`${SET}-mm`, looks, 1 / scale) : nothing}</defs>
    <svg x="0" y="0" width=${size} height=${size} viewBox="${view.x - view.across / 2} ${view.y - view.across / 2} ${view.across} ${view.across}" overflow="hidden">
      <circle r=${wound.bore} fill="var(--space)" stroke="var(--steel-line)" stroke-width=${Math.max(1.5 / scale, 0.02)} />
      ${wound.plies.map(
        ({ look, thickness, name, foil }, i) => svg`<path class="ply" d=${strokes[i] ?? ""} fill="none" stroke=${stroke(look)} stroke-width=${thickness}><title>${name}</title></path>
          ${foil ? svg`<path class="ply" d=${strokes[i] ?? ""} fill="none" stroke=${stroke(foil.look)} stroke-width=${foil.thickness}><title>${name}, foil</title></path>` : nothing}`,
      )}
      <circle r=${wound.core} fill="none" stroke="var(--soft)" stroke-width=${1 / scale} stroke-dasharray="${4 / scale} ${3 / scale}" />
    </svg>
    ${scaleBar(16, size - 14, scale, 150)}${key.drawn}
  </svg>`;
}

