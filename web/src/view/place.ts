/** Energy density against specific energy: where the cells stand, where the common sizes of the same cell design would. */
import { html, nothing, svg, type TemplateResult } from "../template";
import { axisBelow, axisLeft } from "../draw/axis";
import { Room } from "../draw/room";
import { scale } from "../draw/scale";
import type { Figure } from "../model/contract";
import type { Page } from "../page";
import { estimateOf, sidesOf } from "../state";
import { picture } from "./frame";
import { plot, type Reading } from "./plot";
import { mapQuestion } from "./sizes";
import { work } from "./study";
import { nameOf } from "./words";

interface Dot {
  name: string;
  x: Figure;
  y: Figure;
  kind: "first" | "second" | "size";
}

export function place(page: Page): TemplateResult | typeof nothing {
  const { state } = page;
  const asked = mapQuestion(state);
  const grid = state.studies.map.answer;
  const of = (rows: { id: string; figure: Figure }[] | undefined, id: string): Figure | undefined => rows?.find((row) => row.id === id)?.figure;
  const cells = sidesOf(state).flatMap((side): Dot[] => {
    const rows = estimateOf(state, side)?.headline;
    const [x, y] = [of(rows, "gravimetric"), of(rows, "volumetric")];
    return x && y ? [{ name: nameOf(state, side), x, y, kind: side }] : [];
  });
  const at = (id: string): number => grid?.figures.findIndex((one) => one.id === id) ?? -1;
  const sizes = (grid?.common ?? []).flatMap(({ label, figures }): Dot[] => {
    const [x, y] = [figures[at("gravimetric")], figures[at("volumetric")]];
    return x && y ? [{ name: label, x, y, kind: "size" }] : [];
  });
  const dots = [...cells, ...sizes];
  if (dots.length === 0) return nothing;
  const { narrow } = state.shown;
  const [width, height] = narrow ? [340, 320] : [700, 420];
  const edge = { top: 34, right: 20, below: 48, left: 50 };
  const ends = (figure: Figure): number[] => [figure.low ?? figure.value, figure.high ?? figure.value];
  const xs = [...cells.flatMap(({ x }) => ends(x)), ...sizes.map(({ x }) => x.value)];
  const ys = [...cells.flatMap(({ y }) => ends(y)), ...sizes.map(({ y }) => y.value)];
  const x = scale(Math.min(...xs), Math.max(...xs), edge.left, width - edge.right, narrow ? 4 : 8);
  const y = scale(Math.min(...ys), Math.max(...ys), height - edge.below, edge.top, 6);
  const spots = dots.map((dot) => ({ ...dot, px: x(dot.x.value), py: y(dot.y.value) }));
  const room = new Room(edge.left, width - edge.right, spots.map(({ px, py }) => ({ x: px, y: py })));
  const readings = spots.map(({ name, px, py, x, y, kind }): Reading => ({ marks: [{ x: px, y: py, colour: kind === "size" ? "var(--ink)" : `var(--${kind})` }], words: `${name}: ${y.text}, ${x.text}` }));
  const drawing = svg`${axisLeft(y, edge.left, width - edge.right, "Wh/L")}${axisBelow(x, height - edge.below, "Wh/kg")}
    ${spots.map(({ name, px, py, kind, x: of, y: on }) => {
      const label = kind === "size" ? name : name.slice(0, 28);
      const beside = room.beside(px, py, label);
      const colour = kind === "size" ? "var(--soft)" : `var(--${kind})`;
      const [left = 0, right = 0] = ends(of).map(x);
      const [low = 0, high = 0] = ends(on).map(y);
      return svg`${kind === "size" ? svg`<circle cx=${px} cy=${py} r="3" fill=${colour} />` : svg`<path d=${`M${left} ${py}H${right}M${px} ${low}V${high}`} stroke=${colour} stroke-width="1.6" fill="none" /><path d=${kind === "first" ? `M${px - 5} ${py - 5}h10v10h-10z` : `M${px} ${py - 7}l7 7l-7 7l-7 -7z`} fill=${colour} />`}
        ${beside ? svg`<text class="haloed ${kind === "size" ? "" : `strong ${kind}`}" x=${beside.x} y=${beside.y} text-anchor=${beside.anchor}>${label}</text>` : nothing}`;
    })}`;
  return html`${work(page, { kind: "map", name: "the common sizes", asked, quick: true, insight: "place" })}
    ${picture(page, {
      id: "place",
      title: "Energy density against specific energy",
      drawing: plot(page, { id: "place", width, height, drawing, steps: spots.length, at: (i) => readings[i] as Reading }),
      caption: html`Square and lozenge: the cells, with their 95 % intervals. Dots: the first cell’s design in common sizes of can, everything else held as the form-factor map says.`,
      behind: () => ({ heads: ["cell", "Wh/kg", "u", "Wh/L", "u"], rows: dots.map(({ name, x, y }) => [name, x.value, x.u ?? null, y.value, y.u ?? null]) }),
    })}`;
}
