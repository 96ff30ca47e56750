/** The figures of one cell, or of both with what lies between them. */
import { html, nothing, type TemplateResult } from "lit-html";
import type { Datum } from "../draw/save";
import type { Change, Figure, Row, Table } from "../model/contract";
import type { Page } from "../page";
import { takeAway } from "./frame";
import { cellName, remark } from "./words";

export function figures(page: Page): TemplateResult | typeof nothing {
  const { result } = page.state;
  if (!result) return nothing;
  return html`<section id="figures">
    <h2>${result.kind === "two" ? "Both cells, in figures" : "The cell, in figures"}</h2>
    ${result.kind === "two" ? both(page, result.comparison.figures, notesOf(result.first.headline)) : single(page, result.first.headline)}
    <details class="more" data-print><summary>more figures</summary>${result.kind === "two" ? moreOfBoth(page, result.first.tables, result.second.tables) : result.first.tables.map(({ title, rows }) => html`<h3>${title}</h3>${single(page, rows, title)}`)}</details>
  </section>`;
}

const notesOf = (rows: Row[]): Map<string, string> => new Map(rows.flatMap(({ id, note }) => (note ? [[id, note]] : [])));

/** The change with its share of the first cell's figure. */
export const changed = ({ change, percent }: Pick<Change, "change" | "percent">): TemplateResult => html`${change.text}${percent ? html`<small>${percent.text}</small>` : nothing}`;

function both(page: Page, changes: Change[], notes: Map<string, string>): TemplateResult {
  const rows = (): Datum[][] => [
    ["figure", "unit", "first", "first u", "second", "second u", "change", "change u", "percent"],
    ...changes.map(({ label, first, second, change, percent }) => [label, first.unit, ...known(first), ...known(second), ...known(change), percent?.value ?? null]),
  ];
  return html`<div class="scroll" tabindex="0" role="region" aria-label="Figures of both cells"><table class="figures many">
      <caption class="unseen">Figures of both cells, each with its standard uncertainty</caption>
      <thead><tr><td></td><th scope="col">${cellName(page.state, "first")}</th><th scope="col">${cellName(page.state, "second")}</th><th scope="col">change</th></tr></thead>
      <tbody>${changes.map(
        (one) => html`<tr data-figure=${one.id}><th scope="row">${one.label}${remark(notes.get(one.id))}</th><td>${one.first.text}</td><td>${one.second.text}</td><td class="change">${changed(one)}</td></tr>`,
      )}</tbody>
    </table></div>${takeAway(page, "Figures", rows)}`;
}

function single(page: Page, told: Row[], title = "Figures"): TemplateResult {
  const rows = (): Datum[][] => [["figure", "unit", "value", "u", "note"], ...told.map(({ label, figure, note }) => [label, figure.unit, ...known(figure), note ?? null])];
  return html`<div class="scroll" tabindex="0" role="region" aria-label=${title}><table class="figures">
      <caption class="unseen">${title}, each with its standard uncertainty</caption>
      <tbody>${told.map(({ id, label, figure, note }) => html`<tr data-figure=${id}><th scope="row">${label}${remark(note)}</th><td>${figure.text}</td></tr>`)}</tbody>
    </table></div>${title === "Figures" ? takeAway(page, title, rows) : nothing}`;
}

/** Tables of the two cells with the same title, row by row. */
function moreOfBoth(page: Page, first: Table[], second: Table[]): TemplateResult[] {
  const titles = [...new Set([...first, ...second].map(({ title }) => title))];
  return titles.map((title) => {
    const one = first.find((table) => table.title === title)?.rows ?? [];
    const two = second.find((table) => table.title === title)?.rows ?? [];
    const ids = [...new Set([...one, ...two].map(({ id }) => id))];
    return html`<h3>${title}</h3>
      <div class="scroll" tabindex="0" role="region" aria-label=${title}><table class="figures many">
        <caption class="unseen">${title}</caption>
        <thead><tr><td></td><th scope="col">${cellName(page.state, "first")}</th><th scope="col">${cellName(page.state, "second")}</th></tr></thead>
        <tbody>${ids.map((id) => {
          const a = one.find((row) => row.id === id);
          const b = two.find((row) => row.id === id);
          return html`<tr><th scope="row">${(a ?? b)?.label}${remark((a ?? b)?.note)}</th><td>${a?.figure.text ?? "–"}</td><td>${b?.figure.text ?? "–"}</td></tr>`;
        })}</tbody>
      </table></div>`;
  });
}

export const known = ({ value, u }: Figure): [Datum, Datum] => [value, u ?? null];
