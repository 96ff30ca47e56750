/** The design sheet: what a cell is known by, then every other entry by part of the cell, folded, to be changed in place. */
import { html, nothing, repeat, svg, type TemplateResult } from "../template";
import { hosted } from "../edits";
import { isName, mixOf, type Side } from "../entry";
import { hosts } from "../materials";
import type { Page } from "../page";
import { lay, type Field, type Laid, type PartRows, type Row, type SheetSection } from "../rows";
import { sheetOf, sidesOf, type Filter } from "../state";
import { conflicts } from "./conflicts";
import { field } from "./field";
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
  const { search, filter } = state.shown;
  const sides = sidesOf(state);
  const laid = lay(state);
  const narrowed = search.trim() !== "" || filter !== "all";
  return html`<section id="sheet" aria-labelledby="sheet-title">
    <h2 id="sheet-title">Entries</h2>
    ${laid.elsewhere.length > 0
      ? html`<ul class="problems" role="alert" tabindex="-1">${laid.elsewhere.map(({ side, text }) => html`<li>${sides.length > 1 ? html`${cellName(state, side)}: ` : nothing}${text}</li>`)}</ul>`
      : nothing}
    ${conflicts(page)}
    <datalist id="materials">${state.materials.map((name) => html`<option value=${name}></option>`)}</datalist>
    ${(["cathode", "anode"] as const).map((role) => html`<datalist id="hosts-${role}">${hosts(role).map((name) => html`<option value=${name}></option>`)}</datalist>`)}
    <div class="scrolls"><table class="sheet essential ${sides.length > 1 ? "two" : "one"}">
      <caption class="unseen">Essential entries</caption><colgroup><col class="what" /></colgroup>
      <thead><tr><th scope="col"><span class="unseen">entry</span></th>${sides.map((side) => html`<th scope="col">${name(page, side)}</th>`)}</tr></thead>
      <tbody>${essential(page, laid.essential, sides)}</tbody>
    </table></div>
    <p class="note unprinted">Write <kbd>68 ± 1 µm</kbd>, <kbd>45 – 47 mm</kbd>, <kbd>1,8 in</kbd> or a bare number in the entry's unit. Grey: default; write over it and the entry is yours, clear it and the default is back. The small bar: contribution to the variance of the answer.</p>
    <h3 id="all-entries">All entries</h3>
    <div class="controls unprinted"><label for="search">Search entries</label>
      <input id="search" type="search" size="18" placeholder="foil, width, tab …" .value=${search} @input=${(event: Event) => page.show({ search: (event.currentTarget as HTMLInputElement).value })} />
      <label for="filter">show</label>
      <select id="filter" @change=${(event: Event) => page.show({ filter: (event.currentTarget as HTMLSelectElement).value as Filter })}>
        ${FILTERS.filter(([name]) => name !== "differs" || sides.length > 1).map(([name, words]) => html`<option value=${name} ?selected=${filter === name}>${words}</option>`)}
      </select></div>
    ${folds(page, laid, sides, narrowed)}
  </section>`;
}

function essential(page: Page, rows: Row[], sides: Side[]): unknown {
  const at = (key: string): Row[] => rows.filter((row) => row.key.startsWith(key));
  const plain = (some: Row[]): unknown => repeat(some, ({ key }) => key, (row) => entry(page, row, sides, "", true));
  const others = rows.filter(({ key }) => !/^(can|winding|cathode|anode)\./.test(key));
  return html`${plain([...at("can."), ...at("winding.")])}${host(page, "cathode", sides)}${plain(at("cathode."))}${host(page, "anode", sides)}${plain(at("anode."))}${plain(others)}`;
}

/** The material that an electrode is named after: the first of its mix. */
function host(page: Page, electrode: "cathode" | "anode", sides: Side[]): TemplateResult {
  return html`<tr><th scope="row">${electrode}, active material</th>${sides.map((side) => {
    const held = sheetOf(page.state, side);
    const change = (event: Event): void => {
      const material = (event.currentTarget as HTMLInputElement).value.trim();
      if (!material) return page.draw();
      if (held) page.edit(side, hosted(held, electrode, material), `the ${electrode} of ${nameOf(page.state, side)}`);
    };
    return html`<td data-cell=${nameOf(page.state, side)}><div class="field"><input type="text" class="material" list="hosts-${electrode}" data-place="${side}.${electrode}.host" aria-label="${electrode}, active material, ${nameOf(page.state, side)}"
      .value=${(held && mixOf(held, electrode)[0]?.material) ?? ""} autocomplete="off" spellcheck="false" @change=${change} /></div></td>`;
  })}</tr>`;
}

function folds(page: Page, laid: Laid, sides: Side[], narrowed: boolean): TemplateResult {
  const { state } = page;
  // The parts follow the can.
  const can = laid.sections.filter(({ name }) => name === "Can");
  const beside = laid.sections.find(({ name }) => name === "Parts");
  const rest = laid.sections.filter(({ name }) => name !== "Can" && name !== "Parts");
  const shown = new Set(laid.essential.map(({ key }) => key));
  const fold = ({ name, ...section }: SheetSection, listed?: PartRows[]): TemplateResult | typeof nothing => {
    const rows = narrowed ? section.rows : section.rows.filter(({ key }) => !shown.has(key));
    const count = rows.length + (section.mix?.rows.length ?? 0) + (listed?.reduce((sum, part) => sum + part.rows.length, 0) ?? 0);
    const wrong = rows.some(isWrong) || (listed ?? []).some((part) => part.rows.some(isWrong));
    const open = narrowed || wrong || state.shown.sections.has(name);
    if (narrowed && count === 0) return nothing;
    const toggle = (event: Event): void => {
      const { sections } = state.shown;
      const is = (event.currentTarget as HTMLDetailsElement).open;
      if (is === sections.has(name)) return;
      if (is) sections.add(name);
      else sections.delete(name);
      page.draw();
    };
    return html`<details class="part-of-cell" data-print data-fold=${name} ?open=${open} @toggle=${toggle}>
      <summary><h4>${name}</h4> <small>${listed ? `${listed.length} parts` : `${count} ${count === 1 ? "entry" : "entries"}`}</small></summary>
      ${open ? html`<table class="sheet ${sides.length > 1 ? "two" : "one"}"><caption class="unseen">${name}</caption><colgroup><col class="what" /></colgroup>
        <thead class="unseen"><tr><td></td>${sides.map((side) => html`<th scope="col">${nameOf(state, side)}</th>`)}</tr></thead>
        ${listed ? parts(page, listed, sides, { name, ...section, rows }) : group(page, { name, ...section, rows }, sides)}</table>` : nothing}
    </details>`;
  };
  return html`${can.map((one) => fold(one))}${fold(beside ?? { name: "Parts", rows: [], more: [] }, laid.parts)}${repeat(rest, ({ name }) => name, (one) => fold(one))}`;
}

function name(page: Page, side: Side): TemplateResult {
  const rename = (event: Event): void => {
    const cell = (event.currentTarget as HTMLInputElement).value;
    page.rename(side, cell);
  };
  return html`<input type="text" class="name ${side}" data-place="${side}.cell" aria-label="name of the ${side} cell" dir="auto" .value=${sheetOf(page.state, side)?.cell ?? ""}
    autocomplete="off" spellcheck="false" @change=${rename} />`;
}

/** Marks the table's figures of materials as unfolded. */
export const MATERIALS = "materials";

function group(page: Page, { name, rows, mix: mixed, more }: SheetSection, sides: Side[]): TemplateResult {
  const materials = name === "Materials" && page.state.shown.filter === "all" && !page.state.shown.search.trim();
  const shown = materials && !page.state.shown.open.has(MATERIALS) ? rows.filter(isOwn) : rows;
  return html`<tbody data-section=${name}>
    ${mixed ? mix(page, mixed, sides) : nothing}
    ${repeat(shown, ({ key }) => key, (row) => entry(page, row, sides))}
    ${materials ? unfold(page, rows.filter((row) => !isOwn(row)).length, sides) : nothing}
    ${more.length > 0 ? html`<tr class="more"><td></td><td colspan=${sides.length}>${add(page, name, more)}</td></tr>` : nothing}
  </tbody>`;
}

const both = ({ fields: { first, second } }: Row): Field[] => [first, second].filter((one) => one !== undefined);
const isWrong = (row: Row): boolean => both(row).some(({ problems }) => problems.length > 0);
/** Written by the user, or wrong. */
const isOwn = (row: Row): boolean => isWrong(row) || both(row).some(({ text }) => text !== "");

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
export function entry(page: Page, row: Row, sides: Side[], within = "", essential = false): TemplateResult {
  const list = isName(row.key) ? "materials" : undefined;
  const label = row.label.startsWith(`${within}: `) ? row.label.slice(within.length + 2) : row.label;
  // Among the essentials no heading says which electrode an entry is of.
  const of = essential ? /^(cathode|anode|separator)\./.exec(row.key)?.[1] : undefined;
  return html`<tr>
    <th scope="row">${of ? `${of}: ` : nothing}${label}${share(page, row)}${remark(remarks(row))}</th>
    ${sides.map((side) => {
      const content = row.fields[side];
      return html`<td data-cell=${nameOf(page.state, side)}>${content ? field(page, content, { list, slides: essential }) : nothing}</td>`;
    })}
  </tr>`;
}

/** Contribution of the entry to the variance of the answer, of both cells together. */
function share(page: Page, row: Row): TemplateResult | typeof nothing {
  const content = page.state.studies.sensitivity.answer;
  const paths = new Set(both(row).map(({ path }) => path));
  const part = (content?.shares ?? []).filter(({ path }) => paths.has(path)).reduce((sum, one) => sum + one.share, 0);
  if (part < 0.005) return nothing;
  const words = `contributes ${Math.round(100 * part)} % of the variance of the ${content?.label ?? "answer"}`;
  return html` <svg class="share" viewBox="0 0 60 6" width="60" height="6" role="img" aria-label=${words}><title>${words}</title>${svg`<rect width="60" height="6" fill="var(--line)" /><rect width=${Math.min(60, 60 * part)} height="6" fill="var(--mark)" />`}</svg>`;
}

/** Remarks and sources of a row. */
const remarks = (row: Row): string => [...new Set(both(row).flatMap((one) => [one.remark, one.source]).filter(Boolean))].join("; ");

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
