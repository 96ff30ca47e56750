/** The figures of one cell, or of both with what lies between them. */
import { html, nothing, type TemplateResult } from "../template";
import type { Datum } from "../draw/save";
import type { Change, Figure, Row, Table } from "../model/contract";
import type { Page } from "../page";
import { takeAway } from "./frame";
import { table } from "./table";
import { bare, cellName, remark, withUnit } from "./words";

/** The first table, which can be taken away. */
const FIGURES = "Figures";

export function figures(page: Page): TemplateResult | typeof nothing {
  const { result } = page.state;
  if (!result) return nothing;
  const foremost = new Set([...result.first.headline, ...(result.kind === "two" ? result.second.headline : [])].map(({ id }) => id));
  return html`<section id="figures">
    <h2>${result.kind === "two" ? "Both cells, in figures" : "The cell, in figures"}</h2>
    ${result.kind === "two"
      ? both(page, FIGURES, result.comparison.figures.filter(({ id }) => foremost.has(id)), notesOf(result.first.headline))
      : single(page, result.first.headline)}
  </section>`;
}

/** All other figures, under the headings that the model gives them. */
export function moreFigures(page: Page): TemplateResult | typeof nothing {
  const { result } = page.state;
  if (!result) return nothing;
  const tables = result.kind === "two" ? moreOfBoth(page, result.comparison.figures, result.first.tables, result.second.tables) : result.first.tables.map((table) => single(page, table.rows, table.title));
  return html`<section id="more-figures">
    <details class="more"><summary>More figures: lengths, turns, thicknesses, lithium balance</summary><div class="tables">${tables}</div></details>
  </section>`;
}

const notesOf = (rows: Row[]): Map<string, string> => new Map(rows.flatMap(({ id, note }) => (note ? [[id, note]] : [])));

/** The change with its share of the first cell's figure. */
export const changed = ({ change, percent }: Pick<Change, "change" | "percent">): TemplateResult => html`${bare(change)}${percent ? html`<small>${percent.text}</small>` : nothing}`;

function both(page: Page, title: string, changes: Change[], notes: Map<string, string>): TemplateResult {
  const rows = (): Datum[][] => [
    ["figure", "unit", "first", "first u", "second", "second u", "change", "change u", "percent"],
    ...changes.map(({ label, first, second, change, percent }) => [label, first.unit, ...known(first), ...known(second), ...known(change), percent?.value ?? null]),
  ];
  return html`${table({
      name: `${title} of both cells`,
      caption: html`${title}<span class="unseen"> of both cells, each with its standard uncertainty</span>`,
      titled: title !== FIGURES,
      kind: "many",
      heads: ["", cellName(page.state, "first"), cellName(page.state, "second"), "change"],
      rows: changes.map((one) => [html`${withUnit(one.label, one.first.unit)}${remark(notes.get(one.id))}`, bare(one.first), bare(one.second), changed(one)]),
    })}${title === FIGURES ? takeAway(page, title, rows) : nothing}`;
}

function single(page: Page, list: Row[], title = FIGURES): TemplateResult {
  const rows = (): Datum[][] => [["figure", "unit", "value", "u", "note"], ...list.map(({ label, figure, note }) => [label, figure.unit, ...known(figure), note ?? null])];
  return html`${table({
      name: title,
      caption: html`${title}<span class="unseen">, each with its standard uncertainty</span>`,
      titled: title !== FIGURES,
      kind: "",
      rows: list.map(({ label, figure, note }) => [html`${label}${remark(note)}`, figure.text]),
    })}${title === FIGURES ? takeAway(page, title, rows) : nothing}`;
}

/** Tables of the two cells with the same title, row by row. What only one cell has stands there without a change. */
function moreOfBoth(page: Page, changes: Change[], first: Table[], second: Table[]): TemplateResult[] {
  const titles = [...new Set([...first, ...second].map(({ title }) => title))];
  return titles.map((title) => {
    const rows = [first, second].flatMap((tables) => tables.find((table) => table.title === title)?.rows ?? []);
    const ids = new Set(rows.map(({ id }) => id));
    const shared = changes.filter(({ id }) => ids.has(id));
    return html`${both(page, title, shared, notesOf(rows))}`;
  });
}

export const known = ({ value, u }: Figure): [Datum, Datum] => [value, u ?? null];
