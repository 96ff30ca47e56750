/** The design sheet: every entry of both cells, to be changed in place. */
import { html, nothing, type TemplateResult } from "lit-html";
import { repeat } from "lit-html/directives/repeat.js";
import type { Side } from "../entry";
import type { Page } from "../page";
import { lay, type Row, type SheetSection } from "../rows";
import { sheetOf, sidesOf, type Filter } from "../state";
import { field, isName } from "./field";
import { mix } from "./mix";
import { parts } from "./parts";
import { cellName, nameOf, remark } from "./words";

const FILTERS: [Filter, string][] = [
  ["all", "every entry"],
  ["differs", "where the cells differ"],
  ["assumed", "assumed and default"],
];

export function sheet(page: Page): TemplateResult {
  const { state } = page;
  const sides = sidesOf(state);
  const { sections, parts: laid, elsewhere } = lay(state);
  // The parts follow the can.
  const can = sections.find(({ name }) => name === "Can");
  const beside = sections.find(({ name }) => name === "Parts");
  const rest = sections.filter((one) => one !== can && one !== beside);
  return html`<section id="sheet">
    <h2>Design sheet</h2>
    <p class="note unprinted">Write a quantity as <kbd>68 ± 1 µm</kbd>, <kbd>0.86 .. 0.90</kbd> or <kbd>68 µm</kbd>. What is muted is a default; write over it and it is yours, clear it and the default is back.</p>
    ${elsewhere.length > 0
      ? html`<ul class="problems" role="alert" tabindex="-1">${elsewhere.map(({ side, text }) => html`<li>${sides.length > 1 ? html`${cellName(state, side)}: ` : nothing}${text}</li>`)}</ul>`
      : nothing}
    <div class="controls"><label for="filter">Show</label>
      <select id="filter" @change=${(event: Event) => page.show({ filter: (event.currentTarget as HTMLSelectElement).value as Filter })}>
        ${FILTERS.filter(([name]) => name !== "differs" || sides.length > 1).map(([name, words]) => html`<option value=${name} ?selected=${state.shown.filter === name}>${words}</option>`)}
      </select></div>
    <datalist id="materials">${state.materials.map((name) => html`<option value=${name}></option>`)}</datalist>
    <table class="sheet ${sides.length > 1 ? "two" : "one"}">
      <caption class="unseen">Design sheet</caption>
      <thead><tr><th scope="col"><span class="unseen">entry</span></th>${sides.map((side) => html`<th scope="col">${name(page, side)}</th>`)}</tr></thead>
      ${can ? group(page, can, sides) : nothing}${parts(page, laid, sides, beside)}
      ${repeat(rest, ({ name }) => name, (one) => group(page, one, sides))}
    </table>
  </section>`;
}

function name(page: Page, side: Side): TemplateResult {
  const rename = (event: Event): void => {
    const cell = (event.currentTarget as HTMLInputElement).value;
    page.rename(side, cell);
  };
  return html`<input type="text" class="name ${side}" data-place="${side}.cell" aria-label="name of the ${side} cell" .value=${sheetOf(page.state, side)?.cell ?? ""}
    autocomplete="off" spellcheck="false" @change=${rename} />`;
}

/** Marks the table's figures of materials as unfolded. */
export const MATERIALS = "materials";

function group(page: Page, { name, rows, mix: mixed, more }: SheetSection, sides: Side[]): TemplateResult {
  const folds = name === "Materials" && page.state.shown.filter === "all";
  const shown = folds && !page.state.shown.open.has(MATERIALS) ? rows.filter(isOwn) : rows;
  return html`<tbody data-section=${name}>
    <tr class="heading"><th scope="rowgroup" colspan=${sides.length + 1}><h3>${name}</h3></th></tr>
    ${mixed ? mix(page, mixed, sides) : nothing}
    ${repeat(shown, ({ key }) => key, (row) => entry(page, row, sides))}
    ${folds ? unfold(page, rows.filter((row) => !isOwn(row)).length, sides) : nothing}
    ${more.length > 0 ? html`<tr class="more"><td></td><td colspan=${sides.length}>${add(page, name, more)}</td></tr>` : nothing}
  </tbody>`;
}

/** Written by the user, or wrong. */
const isOwn = ({ fields: { first, second } }: Row): boolean => [first, second].some((one) => one && (one.text !== "" || one.problems.length > 0));

function unfold(page: Page, count: number, sides: Side[]): TemplateResult | typeof nothing {
  const { open } = page.state.shown;
  const toggle = (): void => {
    if (!open.delete(MATERIALS)) open.add(MATERIALS);
    page.draw();
  };
  return count === 0
    ? nothing
    : html`<tr class="more"><td colspan=${sides.length + 1}><button type="button" class="plain" data-do="materials" aria-expanded=${open.has(MATERIALS) ? "true" : "false"} @click=${toggle}>${open.has(MATERIALS) ? "fold" : "show"} the ${count} figures taken from the table of materials</button></td></tr>`;
}

/** `within` is the heading that the row stands under, where its label repeats it. */
export function entry(page: Page, row: Row, sides: Side[], within = ""): TemplateResult {
  const list = isName(row.key) ? "materials" : undefined;
  return html`<tr>
    <th scope="row">${row.label.startsWith(`${within}: `) ? row.label.slice(within.length + 2) : row.label}${remark(remarks(row))}</th>
    ${sides.map((side) => {
      const told = row.fields[side];
      return html`<td data-cell=${nameOf(page.state, side)}>${told ? field(page, told, list) : nothing}</td>`;
    })}
  </tr>`;
}

/** Remarks and sources of a row. */
const remarks = ({ fields: { first, second } }: Row): string => [...new Set([first, second].flatMap((one) => [one?.remark, one?.source]).filter(Boolean))].join("; ");

/** `at` is the path of the field that appears, where it is not the entry's own. */
export function add(page: Page, section: string, more: SheetSection["more"], at?: (path: string) => string): TemplateResult {
  const choose = (event: Event): void => {
    const select = event.currentTarget as HTMLSelectElement;
    const path = select.value;
    select.value = "";
    if (!path) return;
    page.show({ added: [...page.state.shown.added, path] });
    page.focusOn(`[data-place="${CSS.escape(at ? at(path) : `first.${path}`)}"]`);
  };
  return html`<select class="add" aria-label="add an entry to ${section}" @change=${choose}>
    <option value="">${at ? "add …" : "add an entry …"}</option>${more.map(({ path, label }) => html`<option value=${path}>${label}</option>`)}
  </select>`;
}

