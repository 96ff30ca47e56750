/** The same cell design in other cans, or a cell along any of its inputs: a map with lines of equal value, and slices through it. */
import { html, nothing, svg, type TemplateResult } from "../template";
import { wordsFor } from "../catalogue";
import { axisBelow, axisLeft } from "../draw/axis";
import { Room } from "../draw/room";
import { scale, through, type Scale } from "../draw/scale";
import type { Grid, GridAxis, GridFigure, Hold, LongQuestion, MapQuestion } from "../model/contract";
import { written } from "../number";
import type { Page } from "../page";
import { CAN_SIZES, estimateOf, type Sizes, type State } from "../state";
import { picture } from "./frame";
import { plot, spoken as read } from "./plot";
import { isOld, work } from "./study";
import { choice, heard } from "./table";
import { bare, cellName, inSection, withUnit } from "./words";

/** Fine enough to read a value off, coarse enough to be there in a moment. */
const STEPS_OF_A_MAP = 60;
/** What a size is looked at for: energy, and what heat and current have to pay for it. */
const FIGURES = ["volumetric", "gravimetric", "capacity", "energy", "mass", "heat.radial", "heat.axial", "resistance", "heat", "loaded_volumetric"];
const STEPS_OF_A_LINE = 100;

type Asked = Extract<LongQuestion, { kind: "map" | "sweep" }>;

const isCan = ({ along }: Sizes): boolean => along.length === 2 && along.every(({ key }, i) => key === CAN_SIZES[i]?.key);

/** Where the can changes its size, a recipe says what becomes of the rest. */
const isResized = ({ along }: Sizes): boolean => along.some(({ key }) => ["can.diameter", "can.height", "can.wall", "can.bottom"].includes(key));

/** What is written; what is yet to be written is as the sheet has it. */
const heldBy = ({ hold }: Sizes): Hold => Object.fromEntries(Object.entries(hold).filter(([, text]) => text.trim() !== ""));

/** The question that the block puts as it stands. */
function question({ first: sheet, sizes }: State): Asked {
  const steps = sizes.along.length === 2 ? STEPS_OF_A_MAP : STEPS_OF_A_LINE;
  const [x, y] = sizes.along;
  const held = heldBy(sizes);
  const hold = isResized(sizes) && Object.keys(held).length > 0 ? { hold: held } : {};
  if (isCan(sizes) && x && y)
    return { kind: "map", asked: { sheet, diameter: { from: x.from, to: x.to, steps }, height: { from: y.from, to: y.to, steps }, figures: FIGURES, ...hold } };
  return { kind: "sweep", asked: { sheet, along: sizes.along.map((one) => ({ ...one, steps })), figures: FIGURES, ...hold } };
}

/** The map over all common cans, whatever the block is drawn over. */
export function mapQuestion(state: State): MapQuestion {
  const asked = question(isCan(state.sizes) ? state : { ...state, sizes: { ...state.sizes, along: CAN_SIZES } });
  return asked.asked as MapQuestion;
}

/** Changes what the map is drawn over; it is drawn anew by itself. */
function change(page: Page, to: Partial<Sizes>): void {
  page.set({ sizes: { ...page.state.sizes, ...to } }, "what the map is drawn over");
  page.show({ place: null });
}

/** Whether all of it is written. */
const isWhole = ({ along }: Sizes): boolean => along.every(({ from, to }) => from.trim() !== "" && to.trim() !== "");

/** Places of problems that a control of its own shows. */
const inPlace = (place: string): boolean => IN_PLACE.test(place);
const IN_PLACE = /^(?:diameter|height|along\[[01]\])\.(?:key|from|to)$|^hold\./;

/** What is wrong with one control: its words, and where they stand. */
function wrong(page: Page, place: string): { message: TemplateResult | typeof nothing; invalid: "true" | "false"; by: string | typeof nothing } {
  const found = page.state.studies[question(page.state).kind].problems.filter((one) => one.place === place);
  const id = `sizes-problem-${place.replaceAll(/[^\w]+/g, "-")}`;
  if (found.length === 0) return { message: nothing, invalid: "false", by: nothing };
  return { message: html`<p class="problem" id=${id}>${found.map(({ text }) => text.replace(`${place}: `, "")).join(" ")}</p>`, invalid: "true", by: id };
}

export function sizes(page: Page): TemplateResult {
  const { state } = page;
  const { kind, asked } = question(state);
  const grid = state.studies[kind].answer;
  return html`<section id="sizes">
    <p class="note">What ${cellName(state, "first")} would give ${isCan(state.sizes) ? "in a can of any other diameter and height, with the same electrodes" : "if these entries stood otherwise, and all others as they do"}.</p>
    ${both(page)}
    ${axes(page)}
    ${isResized(state.sizes) ? held(page, grid) : nothing}
    ${kind === "map"
      ? work(page, { kind, name: "the map", asked, quick: isWhole(state.sizes), insight: "size", inPlace })
      : work(page, { kind, name: "the sweep", asked, quick: isWhole(state.sizes), insight: "size", inPlace })}
    ${grid ? html`<div class=${isOld(page, kind, asked) ? "old" : ""}>${answered(page, grid)}</div>` : nothing}
  </section>`;
}

/** What the map is drawn over. */
function axes(page: Page): TemplateResult {
  const { along } = page.state.sizes;
  const inputs = estimateOf(page.state, "first")?.inputs ?? [];
  const set = (i: number, to: Partial<Sizes["along"][number]>): void => change(page, { along: along.map((one, at) => (at === i ? { ...one, ...to } : one)) });
  const pick = (i: number, key: string): void => {
    if (key === "") return change(page, { along: along.slice(0, 1) });
    const usual = CAN_SIZES.find((one) => one.key === key) ?? { key, from: "", to: "" };
    change(page, { along: [...along.slice(0, i), usual, ...along.slice(i + 1)] });
  };
  const placeOf = (i: number, what: string): string => `${isCan(page.state.sizes) ? ["diameter", "height"][i] : `along[${i}]`}.${what}`;
  const ends = (i: number, end: "from" | "to"): TemplateResult => {
    const id = `sizes-${i}-${end}`;
    const known = inputs.find(({ path }) => path === along[i]?.key);
    const { message, invalid, by } = wrong(page, placeOf(i, end));
    return html`<span class="end"><label for=${id}>${end}</label><input id=${id} type="text" size="9" .value=${along[i]?.[end] ?? ""} placeholder=${known?.text ?? ""} autocomplete="off" spellcheck="false"
      aria-invalid=${invalid} aria-describedby=${by} @change=${heard((text) => set(i, { [end]: text }))} /></span>${message}`;
  };
  const row = (i: number, name: string): TemplateResult => {
    const { message, invalid, by } = wrong(page, placeOf(i, "key"));
    return html`<div class="controls">
      <label for="sizes-${i}">${name}</label>
      <select id="sizes-${i}" aria-invalid=${invalid} aria-describedby=${by} @change=${heard((key) => pick(i, key))}>
        ${i === 1 ? html`<option value="" ?selected=${along.length < 2}>nothing else</option>` : nothing}
        ${inputs.map((input) => html`<option value=${input.path} ?selected=${input.path === along[i]?.key}>${inSection(input)}</option>`)}
      </select>${message}
      ${along[i] ? [ends(i, "from"), ends(i, "to")] : nothing}
    </div>`;
  };
  return html`<div class="axes">${row(0, "across")}${row(1, "upwards")}</div>`;
}

/** What can be held otherwise: its key, its path in the sheet, and ways that are no value. */
const HELD: { key: keyof Hold; path: string; words?: string; usual?: string; ways: [text: string, words: string][] }[] = [
  { key: "hardware", path: "", words: "hardware", usual: "grows with the diameter, as from cell to cell", ways: [["stays", "stays as it is, which flatters a larger can"]] },
  { key: "wall", path: "can.wall", ways: [["with the diameter", "goes with the diameter"]] },
  { key: "bottom", path: "can.bottom", ways: [] },
  { key: "core_diameter", path: "winding.core_diameter", ways: [] },
  { key: "radial_clearance", path: "winding.radial_clearance", ways: [] },
  { key: "void_height", path: "void_height", ways: [] },
  { key: "parts", path: "", words: "masses of parts", usual: "go with the inner diameter of the can", ways: [["as they are", "stay as they are"]] },
];

/** The choice that stands for a value yet to be written, or written. */
const ANOTHER = "another";

/** What stays as it is while the can changes, each entry to be held otherwise where the model allows it. */
function held(page: Page, grid: Grid | null): TemplateResult {
  const { hold } = page.state.sizes;
  const message = grid?.held ?? [];
  const count = Object.keys(heldBy(page.state.sizes)).length;
  const set = (key: keyof Hold, text: string | undefined): void => {
    const { [key]: _, ...others } = hold;
    // An empty text draws nothing new: the value is yet to be written.
    if (text === "") page.set({ sizes: { ...page.state.sizes, hold: { ...others, [key]: text } } }, "what the map holds");
    else change(page, { hold: text === undefined ? others : { ...others, [key]: text } });
  };
  return html`<details class="more" data-print ?open=${count > 0}>
    <summary>What is held while the can changes${count > 0 ? `: ${count} otherwise than in the sheet` : ""}</summary>
    <div class="held">${HELD.map((one) => heldRow(page, one, grid, set))}
      ${count > 0 ? html`<button type="button" class="plain" data-do="held-as-sheet" @click=${() => change(page, { hold: {} })}>all as in the sheet again</button>` : nothing}
      ${message.length > 0 ? html`<dl>${message.map(({ key, what, text }) => html`<div class=${key ? "chosen" : ""}><dt>${what}</dt><dd>${text}</dd></div>`)}</dl>` : nothing}</div>
  </details>`;
}

function heldRow(page: Page, { key, path, words, usual, ways }: (typeof HELD)[number], grid: Grid | null, set: (key: keyof Hold, text: string | undefined) => void): TemplateResult {
  const { hold } = page.state.sizes;
  const id = `held-${key}`;
  const label = words ?? wordsFor(path).label;
  const known = estimateOf(page.state, "first")?.inputs.find((input) => input.path === path)?.text ?? grid?.held?.find((one) => one.key === key && !one.asked)?.text;
  const text = hold[key];
  const way = text === undefined ? "" : ways.some(([one]) => one === text) || path === "" ? text : ANOTHER;
  const { message, invalid, by } = wrong(page, `hold.${key}`);
  const choose = (chosen: string): void => {
    set(key, chosen === "" ? undefined : chosen === ANOTHER ? "" : chosen);
    if (chosen === ANOTHER) page.focusOn(`#${id}-value`);
  };
  const grows = key !== "void_height" && hold.hardware !== "stays";
  const otherwise = usual ?? `${grows ? "as the hardware" : "as the sheet has it"}${known ? `: ${known}${grows ? " in its own can" : ""}` : ""}`;
  return html`<div class="controls">
    <label for=${id}>${label}</label>
    <select id=${id} @change=${heard(choose)}>
      <option value="" ?selected=${way === ""}>${otherwise}</option>
      ${ways.map(([one, said]) => html`<option value=${one} ?selected=${way === one}>${said}</option>`)}
      ${path ? html`<option value=${ANOTHER} ?selected=${way === ANOTHER}>another value</option>` : nothing}
    </select>
    ${way === ANOTHER
      ? html`<input id="${id}-value" type="text" size="9" aria-label="${label}, held at" .value=${text ?? ""} placeholder=${wordsFor(path).unit} autocomplete="off" spellcheck="false"
          aria-invalid=${invalid} aria-describedby=${by} @change=${heard((text) => set(key, text))} />`
      : nothing}${message}
  </div>`;
}

function answered(page: Page, grid: Grid): TemplateResult {
  const { sizes, shown } = page.state;
  const look = (place: number[]): void => page.show({ place });
  const figure = grid.figures.find(({ id }) => id === sizes.figure) ?? grid.figures[0];
  if (!figure) return html`<p>${[...(grid.plausibility ?? []), ...grid.remarks].join(" ")}</p>`;
  const at = shown.place ?? nearest(grid);
  const chosen = html`<p class="controls">${choice("sizes-figure", "show", grid.figures.map(({ id, label, unit }) => [id, withUnit(label, unit)]), figure.id, (chosen) => page.set({ sizes: { ...page.state.sizes, figure: chosen } }, "the figure of the map"))}</p>`;
  const [x, y] = grid.axes;
  if (!x) return html``;
  const drawn = picture(page, {
    id: "sizes-picture",
    title: `${withUnit(figure.label, figure.unit)}, ${y ? `over ${spoken(x)} and ${spoken(y)}` : `along ${spoken(x)}`}`,
    controls: chosen,
    drawing: y ? map(page, grid, figure, x, y, at, look) : line(page, figure, x),
    caption: html`${y ? "Each line joins cells of equal value; a ring is the cell of the sheet, dots are common sizes. Point at the map to read a value, click, or use the arrow keys, to look along both ways through that place." : "The figure of a cell for each value of the entry; where there is a gap, there is no such cell."}
      ${figure.note ? html`<br />${figure.note}.` : nothing}
      ${(grid.blank ?? []).map(({ cells, place, found, expected }) => html`<br />${cells} of ${grid.cells} are blank: ${place ? `${place}: ` : ""}found ${found}; expected ${expected}.`)}
      ${[...(grid.plausibility ?? []), ...grid.remarks].map((remark) => html`<br />${remark}`)}`,
    behind: () => table(grid),
  });
  return html`${drawn}
    ${y ? slices(page, figure, x, y, at, look) : nothing}
    ${grid.common || grid.own ? common(page, grid) : nothing}`;
}

const valueAt = (figure: GridFigure, x: GridAxis, [i = 0, j = 0]: number[]): number | null => figure.values[j * x.values.length + i] ?? null;

/** The step of each axis that is closest to the sheet's own size, or the middle. */
function nearest(grid: Grid): number[] {
  const own = grid.own ? [grid.own.diameter, grid.own.height] : null;
  return grid.axes.map(({ values }, axis) => {
    const wanted = own?.[axis];
    if (wanted === undefined) return Math.floor(values.length / 2);
    return values.reduce((best, value, i) => (Math.abs(value - wanted) < Math.abs((values[best] ?? 0) - wanted) ? i : best), 0);
  });
}

const short = (value: number | null, unit: string): string => (value === null ? "no cell" : `${Number(value.toPrecision(4))} ${unit}`.trim());

function map(page: Page, grid: Grid, figure: GridFigure, x: GridAxis, y: GridAxis, at: number[], look: (place: number[]) => void): TemplateResult {
  const { narrow } = page.state.shown;
  const [width, height] = narrow ? [340, 380] : [700, 520];
  const edge = { top: 30, right: 20, below: 50, left: 54 };
  const across = scale(x.values[0] ?? 0, x.values.at(-1) ?? 1, edge.left, width - edge.right, narrow ? 4 : 8);
  const up = scale(y.values[0] ?? 0, y.values.at(-1) ?? 1, height - edge.below, edge.top, narrow ? 5 : 8);
  const common = (grid.common ?? []).filter(({ why }) => !why).map((size) => ({ ...size, x: across(size.diameter), y: up(size.height) }));
  const room = new Room(edge.left, width - edge.right, common);
  const marks = common.map(({ label, x, y }) => {
    // What finds no room is in the table of common sizes.
    const at = room.beside(x, y, label);
    return svg`<g class="size"><circle cx=${x} cy=${y} r="3.2" fill="var(--ink)" />${at ? svg`<text class="haloed" x=${at.x} y=${at.y} text-anchor=${at.anchor}>${label}</text>` : nothing}</g>`;
  });
  const own = grid.own ? svg`<g class="size"><circle cx=${across(grid.own.diameter)} cy=${up(grid.own.height)} r="6" fill="none" stroke="var(--first)" stroke-width="2.4" /></g>` : nothing;
  const levels = figure.contours ?? [];
  const lines = levels.map(({ level, lines }, n) => {
    const share = levels.length > 1 ? n / (levels.length - 1) : 1;
    const longest = lines.reduce((best, one) => (one.length > best.length ? one : best), lines[0] ?? []);
    const value = String(Number(level.toPrecision(6)));
    const at = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8].map((part) => longest[Math.floor(longest.length * part)]).find((point) => point && room.on(across(point[0]), up(point[1]), value));
    return svg`<g class="contour">${lines.map((points) => svg`<path d=${through(points.map(([px, py]) => [across(px), up(py)] as const))} fill="none" stroke="var(--second)" stroke-width=${0.7 + 1.6 * share} stroke-linejoin="round" />`)}
      ${at ? svg`<text class="haloed" x=${across(at[0])} y=${up(at[1]) + 4} text-anchor="middle">${value}</text>` : nothing}</g>`;
  });
  const step = (event: PointerEvent | MouseEvent): number[] => {
    const box = (event.currentTarget as SVGSVGElement).getBoundingClientRect();
    const [px, py] = [((event.clientX - box.left) / box.width) * width, ((event.clientY - box.top) / box.height) * height];
    return [closest(x.values, across, px), closest(y.values, up, py)];
  };
  const point = (event: PointerEvent): void => {
    const place = step(event);
    const message = (event.currentTarget as Element).parentElement?.querySelector(".readout");
    // Told at once and outside the page's state: a pointer moves far oftener than the page should be drawn.
    if (message) message.textContent = words(x, y, figure, place);
  };
  const key = (event: KeyboardEvent): void => {
    const by: Record<string, [number, number]> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
    const [dx, dy] = by[event.key] ?? [];
    if (dx === undefined || dy === undefined) return;
    event.preventDefault();
    look([Math.max(0, Math.min(x.values.length - 1, (at[0] ?? 0) + dx)), Math.max(0, Math.min(y.values.length - 1, (at[1] ?? 0) + dy))]);
  };
  return html`<svg class="picture map" viewBox="0 0 ${width} ${height}" role="slider" tabindex="0" aria-labelledby="sizes-picture-title" aria-valuemin="0" aria-valuemax=${figure.values.length - 1}
      aria-valuenow=${(at[1] ?? 0) * x.values.length + (at[0] ?? 0)} aria-valuetext=${words(x, y, figure, at)} @pointermove=${point} @keydown=${key} @click=${(event: MouseEvent) => look(step(event))}>
    <rect x=${edge.left} y=${edge.top} width=${width - edge.left - edge.right} height=${height - edge.top - edge.below} fill="transparent" />
    ${axisLeft(up, edge.left, width - edge.right, withUnit(last(y.label), y.unit))}${axisBelow(across, height - edge.below, withUnit(last(x.label), x.unit))}
    <path class="here" d=${`M${across(x.values[at[0] ?? 0] ?? 0)} ${edge.top}V${height - edge.below}M${edge.left} ${up(y.values[at[1] ?? 0] ?? 0)}H${width - edge.right}`} stroke="var(--soft)" stroke-dasharray="2 4" fill="none" />
    ${lines}${marks}${own}
  </svg><p class="readout" aria-live="off" .textContent=${words(x, y, figure, at)}></p>`;
}

/** The can's own sides need not say whose they are. */
const spoken = ({ key, label }: GridAxis): string => (key.startsWith("can.") ? last(label) : label.toLowerCase());

const last = (label: string): string => label.replace(/^.*: /, "");

const words = (x: GridAxis, y: GridAxis, figure: GridFigure, at: number[]): string =>
  `${last(x.label)} ${short(x.values[at[0] ?? 0] ?? null, x.unit)}, ${last(y.label)} ${short(y.values[at[1] ?? 0] ?? null, y.unit)}: ${short(valueAt(figure, x, at), figure.unit)}`;

const closest = (values: number[], place: Scale, px: number): number =>
  values.reduce((best, value, i) => (Math.abs(place(value) - px) < Math.abs(place(values[best] ?? 0) - px) ? i : best), 0);

/** Both ways through one place of the map, moved by sliders too. */
function slices(page: Page, figure: GridFigure, x: GridAxis, y: GridAxis, at: number[], look: (place: number[]) => void): TemplateResult {
  const [i = 0, j = 0] = at;
  const slider = (axis: GridAxis, of: 0 | 1): TemplateResult => html`<label>${last(axis.label)} ${short(axis.values[at[of] ?? 0] ?? null, axis.unit)}
    <input type="range" min="0" max=${axis.values.length - 1} .value=${String(at[of] ?? 0)}
      @input=${heard((step) => look(of === 0 ? [Number(step), j] : [i, Number(step)]))} /></label>`;
  const along = (axis: GridAxis, values: (number | null)[]): TemplateResult => chart(page, figure, axis, values, "slice");
  return html`<div class="pair slices">
    <div>${along(x, x.values.map((_, k) => valueAt(figure, x, [k, j])))}${slider(y, 1)}</div>
    <div>${along(y, y.values.map((_, k) => valueAt(figure, x, [i, k])))}${slider(x, 0)}</div>
  </div>`;
}

const line = (page: Page, figure: GridFigure, x: GridAxis): TemplateResult => chart(page, figure, x, figure.values, "line", ownValue(page, x));

/** What the sheet itself has along the axis, to be marked. */
function ownValue(page: Page, { key, unit }: GridAxis): number | null {
  const input = estimateOf(page.state, "first")?.inputs.find(({ path }) => path === key);
  const now = written(input?.text ?? "");
  return now && (now.unit === unit || now.unit === "") ? now.value : null;
}

/** One step to another way of looking at sizes and entries. */
function both(page: Page): TemplateResult {
  const can = isCan(page.state.sizes);
  const along = (key: string, from: string, to: string) => (): void => change(page, { along: [{ key, from, to }] });
  return html`<p class="buttons unprinted"><button type="button" aria-pressed=${can ? "true" : "false"} @click=${() => change(page, { along: CAN_SIZES })}>diameter and height</button>
    <button type="button" @click=${along("can.diameter", "14 mm", "60 mm")}>diameter alone</button>
    <button type="button" @click=${along("separator.thickness", "6 µm", "25 µm")}>separator thickness</button>
    <button type="button" @click=${along("winding.core_diameter", "1 mm", "8 mm")}>core diameter</button></p>`;
}

function chart(page: Page, figure: GridFigure, axis: GridAxis, values: (number | null)[], kind: "slice" | "line", own: number | null = null): TemplateResult {
  const narrow = page.state.shown.narrow || kind === "slice";
  const [width, height] = page.state.shown.narrow ? [340, 240] : kind === "slice" ? [440, 250] : [700, 360];
  const edge = { top: 34, right: 16, below: 46, left: 58 };
  const known = values.filter((value) => value !== null);
  if (known.length === 0) return html`<p class="note">There is no cell along this way.</p>`;
  const x = scale(axis.values[0] ?? 0, axis.values.at(-1) ?? 1, edge.left, width - edge.right, narrow ? 5 : 8);
  const y = scale(Math.min(...known), Math.max(...known), height - edge.below, edge.top, 5);
  // A gap in the values is a gap in the line.
  const runs: [number, number][][] = [[]];
  values.forEach((value, i) => (value === null ? runs.push([]) : runs.at(-1)?.push([x(axis.values[i] ?? 0), y(value)])));
  const inside = own !== null && x(own) >= edge.left - 1 && x(own) <= width - edge.right + 1 ? own : null;
  const at = axis.values.reduce((best, value, i) => (Math.abs(value - (own ?? 0)) < Math.abs((axis.values[best] ?? 0) - (own ?? 0)) ? i : best), 0);
  const drawing = svg`${axisLeft(y, edge.left, width - edge.right, figure.unit)}${axisBelow(x, height - edge.below, withUnit(last(axis.label), axis.unit))}
    ${runs.map((run) => svg`<path class="line" d=${through(run)} fill="none" stroke="var(--first)" stroke-width="2" />`)}
    ${inside === null ? nothing : svg`<path class="own" d=${`M${x(inside)} ${edge.top}V${height - edge.below}`} stroke="var(--first)" stroke-dasharray="5 4" fill="none" /><text class="first strong" x=${x(inside) + 6} y=${edge.top + 4}>the sheet</text>
      ${values[at] === null || values[at] === undefined ? nothing : svg`<circle cx=${x(inside)} cy=${y(values[at] ?? 0)} r="5" fill="var(--first)" />`}`}`;
  if (kind === "slice") return html`<svg class="picture" viewBox="0 0 ${width} ${height}" role="img" aria-label=${`${figure.label} along ${axis.label}`}>${drawing}</svg>`;
  return plot(page, { id: "sizes-picture", width, height, drawing, steps: axis.values.length,
    at: (i) => ({ marks: [{ x: x(axis.values[i] ?? 0), y: y(values[i] ?? known[0] ?? 0), colour: "var(--first)" }], across: { from: edge.top, to: height - edge.below }, words: `${last(axis.label)} ${read(axis.values[i], axis.unit)}: ${values[i] === null ? "no cell" : read(values[i], figure.unit)}` }) });
}

/** Common sizes, each to be set beside the cell. */
function common(page: Page, grid: Grid): TemplateResult {
  const sizes = [...(grid.own ? [grid.own] : []), ...(grid.common ?? [])];
  // A size that cannot be says why, across all figures.
  return html`<div class="scroll" tabindex="0" role="region" aria-label="Common sizes"><table class="figures wide">
    <caption>Common sizes with this cell design</caption>
    <thead><tr><th scope="col">size</th><td></td><th scope="col">designation</th>${grid.figures.map(({ label, unit }) => html`<th scope="col">${withUnit(label, unit)}</th>`)}</tr></thead>
    <tbody>${sizes.map(({ label, designation, diameter, height, figures, why }) => html`<tr><th scope="row">${label}</th>
      <td>${label === grid.own?.label || why ? nothing : html`<button type="button" class="plain" aria-label="set beside: ${label}" @click=${() => void page.resize(`${diameter} mm`, `${height} mm`, heldBy(page.state.sizes))}>set beside</button>`}</td>
      <td>${designation}</td>${why ? html`<td class="prose" colspan=${grid.figures.length}>${why}</td>` : figures.map((figure) => html`<td>${figure ? bare(figure) : "–"}</td>`)}</tr>`)}</tbody>
  </table></div>`;
}

function table(grid: Grid): ReturnType<Parameters<typeof picture>[1]["behind"]> {
  const [x, y] = grid.axes;
  return {
    heads: [...grid.axes.map(({ label, unit }) => withUnit(label, unit)), ...grid.figures.map(({ label, unit }) => withUnit(label, unit))],
    rows: (y?.values ?? [null]).flatMap((second, j) =>
      (x?.values ?? []).map((first, i) => [first, ...(second === null ? [] : [second]), ...grid.figures.map(({ values }) => values[j * (x?.values.length ?? 0) + i] ?? null)]),
    ),
  };
}
