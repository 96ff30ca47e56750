/** What can be moved by hand in the drawings: the can's edge and height, the height of a part, a coating. */
import { html, nothing, svg, type SVGTemplateResult, type TemplateResult } from "../template";
import { fill, hatches, type Look } from "../draw/hatch";
import { grip } from "../draw/grip";
import { keyOf } from "../edits";
import { partsOf, read, textOf, type Electrode, type Side } from "../entry";
import type { Edit, Roll, Section, Sheet } from "../model/contract";
import { movedTo, written } from "../number";
import type { Page } from "../page";
import { estimateOf, sheetOf, sidesOf } from "../state";
import { picture } from "./frame";
import type { Paper } from "./section";
import { cellName, nameOf } from "./words";

const colour = (side: Side): string => `var(--${side})`;

/** Movements so far: each is one step to be undone, however late its last answer comes. */
let movements = 0;

function hold(page: Page): void {
  movements++;
  const sections = sidesOf(page.state).flatMap((one) => estimateOf(page.state, one)?.section ?? []);
  page.state.shown.held = { diameter: Math.max(...sections.map(({ diameter }) => diameter)), height: Math.max(...sections.map(({ height }) => height)) };
}

function release(page: Page): void {
  page.show({ held: null });
}

export function grips(page: Page, side: Side, section: Section, at: Paper, way: -1 | 1): SVGTemplateResult[] {
  const sheet = sheetOf(page.state, side);
  if (!sheet) return [];
  const whose = nameOf(page.state, side);
  // A can that is known by the name of its size is dragged from what such cans measure.
  const can = { diameter: textOf(sheet.can.diameter) || `${section.diameter.toFixed(1)} mm`, height: textOf(sheet.can.height) || `${section.height.toFixed(1)} mm` };
  const size = (to: Partial<typeof can>): void => {
    const { diameter, height } = { ...can, ...to };
    // The name is the cell's own, whatever its can.
    const edits: Edit[] = [{ resize: { diameter: plain(diameter), height: plain(height) } }, sheet.cell === undefined ? { clear: "cell" } : { set: "cell", to: sheet.cell }, sheet.made_from === undefined ? { clear: "made_from" } : { set: "made_from", to: sheet.made_from }];
    page.change({ edits: { [side]: edits }, what: "the size of the can", key: `can ${movements}`, afresh: true });
  };
  const common = { colour: colour(side), begin: () => hold(page), end: () => release(page) };
  const edges = [
    grip({ ...common, id: `${side}.can.diameter`, x: at.axis + (way * section.diameter * at.scale) / 2, y: at.base - 0.3 * section.height * at.scale, along: "x", label: `outer diameter of the can, ${whose}`, value: section.diameter, text: can.diameter, low: 8, high: 80, step: 0.1, scale: (way * at.scale) / 2, move: (to) => size({ diameter: `${Number(to.toFixed(2))} mm` }) }),
    grip({ ...common, id: `${side}.can.height`, x: at.axis + way * 0.3 * section.diameter * at.scale, y: at.base - section.height * at.scale, along: "y", label: `outer height of the can, ${whose}`, value: section.height, text: can.height, low: 15, high: 200, step: 0.1, scale: -at.scale, move: (to) => size({ height: `${Number(to.toFixed(2))} mm` }) }),
  ];
  const parts = partsOf(sheet).flatMap((part, i) => {
    const text = textOf(part.height);
    const now = written(text);
    const block = section.blocks.find(({ what }) => what === part.name);
    const above = part.place === "above roll";
    if (!now || now.unit !== "mm" || !block || (!above && part.place !== "below roll")) return [];
    const z = above ? block.z[0] : block.z[1];
    const path = `parts[${i}].height`;
    return [grip({ ...common, id: `${side}.${path}`, x: at.axis + way * Math.max(10, 0.5 * (block.r[0] + block.r[1]) * at.scale), y: at.base - z * at.scale, along: "y", label: `height of ${part.name}, ${whose}`, value: now.value, text, low: 0, high: 20, step: 0.05, scale: above ? at.scale : -at.scale,
      move: (to) => page.change({ edits: { [side]: [{ set: `${keyOf(sheet, path)}.value`, to: movedTo(text, to, 0.05) }] }, what: `the height of ${part.name}`, key: `part ${movements}`, afresh: true }) })];
  });
  return [...edges, ...parts];
}

/** A size without its uncertainty: what is moved is exactly there. */
const plain = (text: string): string => {
  const now = written(text);
  return now ? `${now.value} ${now.unit || "mm"}` : text;
};

/** One turn, cut open: separator, anode, separator, cathode, each to scale, with the coatings to be moved. */
export function plies(page: Page): TemplateResult | typeof nothing {
  const sides = sidesOf(page.state).filter((side) => estimateOf(page.state, side));
  const rolls = sides.map((side) => ({ side, roll: estimateOf(page.state, side)?.roll as Roll }));
  if (rolls.length === 0) return nothing;
  const [width, row] = [page.state.shown.narrow ? 340 : 480, 46];
  const across = Math.max(...rolls.map(({ roll }) => roll.plies.reduce((sum, ply) => sum + ply.thickness, 0)), page.state.shown.across ?? 0);
  const scale = (width - 8) / across;
  const looks = rolls.flatMap(({ roll }) => roll.plies.flatMap(({ look, foil }) => (foil ? [look, foil.look] : [look]))) as Look[];
  const drawing = html`<svg class="picture plies" viewBox="0 0 ${width} ${rolls.length * row + 22}" role="group" aria-labelledby="plies-title">
    <defs>${hatches("plies", looks)}</defs>
    ${rolls.map(({ side, roll }, i) => strip(page, side, roll, 4, 14 + i * row, row - 14, scale))}
    <text x="4" y=${rolls.length * row + 18}>${Math.round(1000 * across)} µm across</text>
  </svg>`;
  const toggle = (): void => page.show({ balanced: !page.state.shown.balanced });
  return picture(page, {
    id: "plies",
    title: "One turn of the jelly roll, across its layers",
    drawing,
    caption: html`${sides.map((side, i) => html`${i ? " below it " : "Top: "}${cellName(page.state, side)}`)}. Current collector foils between their coatings; separators light. <span class="unprinted">Drag a coating’s edge: its density is held,
      <label class="check"><input type="checkbox" .checked=${page.state.shown.balanced} @change=${toggle} /> and so is the N/P ratio: the other electrode follows</label>.</span>`,
    behind: () => ({ heads: ["cell", "layer", "thickness, µm"], rows: rolls.flatMap(({ side, roll }) => roll.plies.map(({ name, thickness }) => [nameOf(page.state, side), name, 1000 * thickness])) }),
  });
}

function strip(page: Page, side: Side, roll: Roll, left: number, y: number, height: number, scale: number): SVGTemplateResult[] {
  let x = left;
  const drawn: SVGTemplateResult[] = [];
  const marks: SVGTemplateResult[] = [];
  for (const { name, look, thickness, foil } of roll.plies) {
    const coat = foil ? (thickness - foil.thickness) / 2 : thickness;
    const layers = foil ? [[look, coat], [foil.look, foil.thickness], [look, coat]] as const : [[look, thickness] as const];
    for (const [of, thick] of layers) {
      drawn.push(svg`<rect x=${x} y=${y} width=${Math.max(0.6, thick * scale)} height=${height} fill=${fill("plies", of)}><title>${name}</title></rect>`);
      x += thick * scale;
    }
    if (foil && (look === "cathode" || look === "anode")) marks.push(coatingGrip(page, side, look, 1000 * coat, x, y + height / 2, scale / 1000));
  }
  return [...drawn, ...marks];
}

function coatingGrip(page: Page, side: Side, electrode: Electrode, thickness: number, x: number, y: number, scale: number): SVGTemplateResult {
  const other: Electrode = electrode === "cathode" ? "anode" : "cathode";
  const sheet = sheetOf(page.state, side);
  const begin = (): void => {
    hold(page);
    const rolls = sidesOf(page.state).flatMap((one) => estimateOf(page.state, one)?.roll.plies.reduce((sum, ply) => sum + ply.thickness, 0) ?? []);
    page.state.shown.across = Math.max(...rolls);
  };
  const move = (to: number): void => {
    if (!sheet) return;
    const edits = [...grown(sheet, electrode, to / thickness, to), ...(page.state.shown.balanced ? grown(sheet, other, to / thickness) : [])];
    if (edits.length > 0) page.change({ edits: { [side]: edits }, what: `the ${electrode} coating`, key: `coating ${movements}`, afresh: true });
  };
  const end = (): void => {
    page.state.shown.across = null;
    release(page);
  };
  return grip({ id: `${side}.${electrode}.coating`, x, y, along: "x", label: `${electrode} coating thickness, per side, ${nameOf(page.state, side)}`, value: Math.round(thickness * 10) / 10, text: `${thickness.toFixed(1)} µm`, low: 10, high: 250, step: 0.5, scale: 2 * scale, colour: colour(side), begin, move, end });
}

/** Thickness and areal mass loading by the same factor, where they are written: so the coating's density stays what it is. */
function grown(sheet: Sheet, electrode: Electrode, by: number, exactly?: number): Edit[] {
  const written = ["thickness", "loading"].map((name) => `${electrode}.${name}`).filter((path) => textOf(read(sheet, path)) !== "");
  if (written.length > 0) return written.map((path) => ({ scale: path, by }));
  // Where neither is written the thickness is what the hand moved.
  return exactly === undefined ? [] : [{ set: `${electrode}.thickness`, to: `${exactly.toFixed(1)} µm` }];
}
