/** The parts of both cells: rename, move, take out, put back, add. */
import { html, nothing, repeat, type TemplateResult } from "../template";
import { keyOf } from "../edits";
import { partsOf, type Part, type Side } from "../entry";
import type { Page } from "../page";
import type { PartRows, SheetSection } from "../rows";
import { sheetOf } from "../state";
import { add, entry } from "./sheet";
import { nameOf } from "./words";

const PLACES: Part["place"][] = ["below roll", "above roll", "beside roll", "in core"];

export function parts(page: Page, laid: PartRows[], sides: Side[], beside: SheetSection | undefined): TemplateResult {
  return html`${repeat(laid, (_, i) => i, (part) => html`<tbody class="part">
      <tr><th scope="row" class="part-name">${part.name} ${part.more.length > 0 ? add(page, part.name, part.more, place(part)) : nothing}</th>${sides.map((side) => html`<td data-cell=${nameOf(page.state, side)}>${head(page, part, side)}</td>`)}</tr>
      ${part.rows.map((row) => entry(page, row, sides, part.name))}
    </tbody>`)}
    <tbody class="part">
      <tr class="more"><td></td>${sides.map((side) => html`<td data-cell=${nameOf(page.state, side)}>${changes(page, side)}</td>`)}</tr></tbody>
    <tbody>${beside?.rows.map((row) => entry(page, row, sides))}
      ${beside?.more.length ? html`<tr class="more"><td></td><td colspan=${sides.length}>${add(page, "Parts", beside.more)}</td></tr>` : nothing}</tbody>`;
}

/** Where an entry of the part stands in the first cell that has the part. */
const place = ({ key, at }: PartRows) => (path: string): string => `${at.first === undefined ? `second.parts[${at.second}]` : `first.parts[${at.first}]`}${path.slice(key.length)}`;

/** The part in one cell: its name and place, or that this cell has none. */
function head(page: Page, part: PartRows, side: Side): TemplateResult {
  const at = part.at[side];
  if (at === undefined) {
    const other: Side = side === "first" ? "second" : "first";
    const from = sheetOf(page.state, other);
    const there = part.at[other];
    const copy = there === undefined || !from ? undefined : partsOf(from)[there];
    const put = (): void => {
      if (!copy || there === undefined) return;
      page.edit(side, [{ add: "parts", item: copy, at: there }], `putting in ${copy.name}`);
    };
    return html`<div class="field"><span class="none">not in this cell</span><button type="button" class="plain" aria-label="put it in: ${part.name}, ${nameOf(page.state, side)}" @click=${put}>put it in</button></div>`;
  }
  const sheet = sheetOf(page.state, side);
  const held = sheet && partsOf(sheet)[at];
  if (!held) return html``;
  const set = (what: "name" | "place") => (event: Event): void => {
    const text = (event.currentTarget as HTMLInputElement | HTMLSelectElement).value;
    const key = keyOf(sheet, `parts[${at}]`);
    if (text.trim() && text !== held[what]) page.edit(side, what === "name" ? [{ rename: key, to: text }] : [{ set: `${key}.place`, to: text }], `the ${what} of ${held.name}`);
    else page.draw();
  };
  const cell = nameOf(page.state, side);
  return html`<div class="field">
    <input type="text" data-place="${side}.parts[${at}].name" aria-label="name of the part, ${cell}" .value=${held.name} autocomplete="off" @change=${set("name")} />
    <select data-place="${side}.parts[${at}].place" aria-label="place of ${held.name}, ${cell}" @change=${set("place")}>${PLACES.map((place) => html`<option value=${place} ?selected=${place === held.place}>${place}</option>`)}</select>
    <button type="button" class="plain" data-out="${side}.${at}" aria-label="take out: ${held.name}, ${cell}" @click=${() => page.takeOut(side, at)}>take out</button>
  </div>`;
}

function changes(page: Page, side: Side): TemplateResult {
  const last = page.state.removed[side].at(-1);
  const more = (): void => {
    const sheet = sheetOf(page.state, side);
    if (!sheet) return;
    const names = new Set(partsOf(sheet).map(({ name }) => name));
    let name = "new part";
    for (let i = 2; names.has(name); i++) name = `new part ${i}`;
    const at = partsOf(sheet).length;
    page.edit(side, [{ add: "parts", item: { name, place: "above roll", height: "0.5 mm" } }], "a new part");
    page.focusOn(`[data-place="${side}.parts[${at}].name"]`);
  };
  return html`<div class="field">
    <button type="button" class="plain" data-add-part=${side} aria-label="add a part: ${nameOf(page.state, side)}" @click=${more}>add a part</button>
    ${last ? html`<button type="button" class="plain" data-back=${side} @click=${() => page.putBack(side)}>put back ${last.part.name}</button>` : nothing}
  </div>`;
}
