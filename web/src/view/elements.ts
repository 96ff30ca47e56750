/** Which elements are in the cell, and how much of each for a kilowatt-hour. */
import { html, nothing, type TemplateResult } from "../template";
import type { Comparison, Composition, Elements } from "../model/contract";
import type { Page } from "../page";
import { changed } from "./figures";
import { takeAway } from "./frame";
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
    <details class="more" data-print><summary>Elements: grams in the cell and for a kilowatt-hour</summary>
    <p class="note">${elements.note}. The grams of all elements are the mass of the ledger.</p>
    ${result.kind === "two" ? both(page, result.comparison.elements) : single(page, elements)}
    ${compositions.map(({ one, side }) => composition(one, nameOf(page.state, side)))}
    </details>
  </section>`;
}

function single(page: Page, { rows, total }: Elements): TemplateResult {
  return html`<div class="scroll" tabindex="0" role="region" aria-label="Elements"><table class="figures wide">
      <caption class="unseen">Mass of each element</caption>
      <thead><tr><td></td><th scope="col">in the cell, g</th><th scope="col">g/kWh</th></tr></thead>
      <tbody>${rows.map(({ label, mass, per_energy }) => html`<tr><th scope="row">${label}</th><td>${bare(mass)}</td><td>${bare(per_energy)}</td></tr>`)}</tbody>
      <tfoot><tr class="whole"><th scope="row">in all</th><td>${bare(total)}</td><td></td></tr></tfoot>
    </table></div>${takeAway(page, "Elements", () => [["element", "g", "u", "g/kWh", "u"], ...rows.map(({ label, mass, per_energy }) => [label, mass.value, mass.u ?? null, per_energy.value, per_energy.u ?? null])])}`;
}

function both(page: Page, rows: Comparison["elements"]): TemplateResult {
  return html`<div class="scroll" tabindex="0" role="region" aria-label="Elements"><table class="figures wide">
      <caption class="unseen">Mass of each element in both cells</caption>
      <thead><tr><td></td>${(["in the cell, g", "g/kWh"] as const).map((unit) => html`<th scope="col">${cellName(page.state, "first")}, ${unit}</th><th scope="col">${cellName(page.state, "second")}, ${unit}</th><th scope="col">change</th>`)}</tr></thead>
      <tbody>${rows.map(({ label, mass, per_energy }) => html`<tr><th scope="row">${label}</th>${[mass, per_energy].map((one) => html`<td>${bare(one.first)}</td><td>${bare(one.second)}</td><td class="change">${changed(one)}</td>`)}</tr>`)}</tbody>
    </table></div>${takeAway(page, "Elements", () => [
      ["element", "first, g", "second, g", "first, g/kWh", "second, g/kWh"],
      ...rows.map(({ label, mass, per_energy }) => [label, mass.first.value, mass.second.value, per_energy.first.value, per_energy.second.value]),
    ])}`;
}

const composition = ({ material, formula, nearest, rows }: Composition, cell: string): TemplateResult => html`<div class="scroll" tabindex="0" role="region" aria-label=${material}><table class="figures">
  <caption>${material} of ${cell}: ${formula}; nearest in the table: ${nearest}</caption>
  <tbody>${rows.map(({ label, figure, note }) => html`<tr><th scope="row">${label}${note ? html`<small>${note}</small>` : nothing}</th><td>${figure.text}</td></tr>`)}</tbody>
</table></div>`;
