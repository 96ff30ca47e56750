/** What was not measured, and what the model remarks on. */
import { html, nothing, type TemplateResult } from "../template";
import type { Side } from "../entry";
import type { Estimate, Input } from "../model/contract";
import type { Page } from "../page";
import { estimateOf, sidesOf } from "../state";
import { cellName, inSection } from "./words";

export function assumptions(page: Page): TemplateResult | typeof nothing {
  const { state } = page;
  if (!state.result) return nothing;
  const sides = sidesOf(state).filter((side) => estimateOf(state, side));
  const remarks = new Map<string, Side[]>();
  for (const side of sides) for (const text of remarksOf(estimateOf(state, side))) remarks.set(text, [...(remarks.get(text) ?? []), side]);
  return html`<section id="assumptions">
    <h2>Assumed</h2>
    <p class="note">Entries that nobody measured or stated. <span class="unprinted">Write a reading into the sheet and the entry is yours.</span></p>
    ${assumed(sides.map((side) => ({ side, inputs: estimateOf(state, side)?.inputs ?? [] })), page)}
    ${remarks.size > 0
      ? html`<h2>Remarks</h2><ul class="remarks">${[...remarks].map(([text, of]) => html`<li>${sides.length > 1 ? html`${of.length > 1 ? "both" : cellName(state, of[0] ?? "first")}: ` : nothing}${text}</li>`)}</ul>`
      : nothing}
  </section>`;
}

/** Where charge and discharge end stands under the curve. */
const remarksOf = (estimates: Estimate | null): string[] => (estimates?.remarks ?? []).filter((text) => !estimates?.curve?.ends.includes(text));

/** Entries alike in both cells stand once. */
function assumed(estimates: { side: Side; inputs: Input[] }[], page: Page): TemplateResult {
  const rows = new Map<string, { input: Input; sides: Side[] }>();
  for (const { side, inputs } of estimates) {
    for (const input of inputs.filter(({ origin }) => origin === "assumed" || origin === "default")) {
      const key = JSON.stringify([input.section, input.label, input.text, input.source, input.remark]);
      const held = rows.get(key) ?? { input, sides: [] };
      if (!held.sides.includes(side)) held.sides.push(side);
      rows.set(key, held);
    }
  }
  return html`<details class="more" data-print>
    <summary>${rows.size} ${rows.size === 1 ? "entry" : "entries"}, with what each rests on</summary>
    <div class="scroll" tabindex="0" role="region" aria-label="Assumed entries"><table>
      <caption class="unseen">Assumed entries</caption>
      <thead><tr><th scope="col">entry</th><th scope="col">value</th>${estimates.length > 1 ? html`<th scope="col">cell</th>` : nothing}<th scope="col">rests on</th></tr></thead>
      <tbody>${[...rows.values()].map(
        ({ input, sides }) => html`<tr><th scope="row">${inSection(input)}</th><td class="value">${input.text}</td>
          ${estimates.length > 1 ? html`<td class="of">${sides.length > 1 ? "both" : sides.map((side) => cellName(page.state, side))}</td>` : nothing}
          <td class="words">${[input.source, input.remark].filter(Boolean).join("; ") || (input.origin === "assumed" ? "assumed in the sheet" : "–")}</td></tr>`,
      )}</tbody>
    </table></div>
  </details>`;
}
