/** Which elements are in the cell, and how much of each for a kilowatt-hour. */
import { html, nothing, type TemplateResult } from "../template";
import type { Comparison, Composition, Elements } from "../model/contract";
import type { Page } from "../page";
import { changed, known } from "./figures";
import { takeAway } from "./frame";
import { more, table } from "./table";
import { bare, cellName, nameOf } from "./words";

export function elements(page: Page): TemplateResult | typeof nothing {
  const { result } = page.state;
  if (!result) return nothing;
  const elements = result.first.elements;
  const compositions = [
    ...(result.first.compositions ?? []).map((one) => ({ one, side: "first" as const })),
    ...(result.kind === "two" ? (result.second.compositions ?? []) : []).map((one) => ({ one, side: "second" as const })),
  ];
  return html`<section id="elements">
    ${more("Elements: grams in the cell and for a kilowatt-hour", html`<p class="note">${elements.note}. The grams of all elements are the mass of the ledger.</p>
    ${result.kind === "two" ? both(page, result.comparison.elements) : single(page, elements)}
    ${compositions.map(({ one, side }) => composition(one, nameOf(page.state, side)))}`)}
  </section>`;
}

function single(page: Page, { rows, total }: Elements): TemplateResult {
  return html`${table({
    name: "Elements",
    caption: "Mass of each element",
    heads: ["", "in the cell, g", "g/kWh"],
    rows: rows.map(({ label, mass, per_energy }) => [label, bare(mass), bare(per_energy)]),
    foot: [["in all", bare(total), ""]],
  })}${takeAway(page, "Elements", () => [["element", "g", "u", "g/kWh", "u"], ...rows.map(({ label, mass, per_energy }) => [label, ...known(mass), ...known(per_energy)])])}`;
}

function both(page: Page, rows: Comparison["elements"]): TemplateResult {
  return html`${table({
    name: "Elements",
    caption: "Mass of each element in both cells",
    heads: ["", ...["in the cell, g", "g/kWh"].flatMap((unit) => [html`${cellName(page.state, "first")}, ${unit}`, html`${cellName(page.state, "second")}, ${unit}`, "change"])],
    rows: rows.map(({ label, mass, per_energy }) => [label, ...[mass, per_energy].flatMap((one) => [bare(one.first), bare(one.second), changed(one)])]),
  })}${takeAway(page, "Elements", () => [
    ["element", "first, g", "second, g", "first, g/kWh", "second, g/kWh"],
    ...rows.map(({ label, mass, per_energy }) => [label, mass.first.value, mass.second.value, per_energy.first.value, per_energy.second.value]),
  ])}`;
}

const composition = ({ material, formula, nearest, rows }: Composition, cell: string): TemplateResult =>
  table({ name: material, caption: `${material} of ${cell}: ${formula}; nearest in the table: ${nearest}`, titled: true, kind: "", rows: rows.map(({ label, figure, note }) => [html`${label}${note ? html`<small>${note}</small>` : nothing}`, figure.text]) });
