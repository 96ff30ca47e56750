/** The figures of one cell, or of both with what lies between them. */
import { html, nothing, type TemplateResult } from "../template";
import type { Datum } from "../draw/save";
import type { Change, Figure, Row, Table } from "../model/contract";
import type { Page } from "../page";
import { takeAway } from "./frame";
import { bare, cellName, remark, withUnit } from "./words";

export function figures(page: Page): TemplateResult | typeof nothing {
  const { result } = page.state;
  if (!result) return nothing;
  const foremost = new Set([...result.first.headline, ...(result.kind === "two" ? result.second.headline : [])].map(({ id }) => id));
  return html`<section id="figures">
    <h2>${result.kind === "two" ? "Both cells, in figures" : "The cell, in figures"}</h2>
    ${result.kind === "two"
      ? both(page, "Figures", result.comparison.figures.filter(({ id }) => foremost.has(id)), notesOf(result.first.headline))
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
  return html`<div class="scroll" tabindex="0" role="region" aria-label="${title} of both cells"><table class="figures many">
      <caption class=${title === "Figures" ? "unseen" : ""}>${title}<span class="unseen"> of both cells, each with its standard uncertainty</span></caption>
      <thead><tr><td></td><th scope="col">${cellName(page.state, "first")}</th><th scope="col">${cellName(page.state, "second")}</th><th scope="col">change</th></tr></thead>
      <tbody>${changes.map(
        (one) => html`<tr data-figure=${one.id}><th scope="row">${withUnit(one.label, one.first.unit)}${remark(notes.get(one.id))}</th><td>${bare(one.first)}</td><td>${bare(one.second)}</td><td class="change">${changed(one)}</td></tr>`,
      )}</tbody>
    </table></div>${title === "Figures" ? takeAway(page, title, rows) : nothing}`;
}

function single(page: Page, list: Row[], title = "Figures"): TemplateResult {
  const rows = (): Datum[][] => [["figure", "unit", "value", "u", "note"], ...list.map(({ label, figure, note }) => [label, figure.unit, ...known(figure), note ?? null])];
  return html`<div class="scroll" tabindex="0" role="region" aria-label=${title}><table class="figures">
      <caption class=${title === "Figures" ? "unseen" : ""}>${title}<span class="unseen">, each with its standard uncertainty</span></caption>
      <tbody>${list.map(({ id, label, figure, note }) => html`<tr data-figure=${id}><th scope="row">${label}${remark(note)}</th><td>${figure.text}</td></tr>`)}</tbody>
    </table></div>${title === "Figures" ? takeAway(page, title, rows) : nothing}`;
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
