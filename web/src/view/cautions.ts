/** Cautions that go with every result, and the foot of the page. */
import { html, nothing, type TemplateResult } from "../template";
import type { Page } from "../page";
import { estimateOf, sidesOf } from "../state";

export function cautions(page: Page): TemplateResult | typeof nothing {
  const texts = new Map(sidesOf(page.state).flatMap((side) => (estimateOf(page.state, side)?.cautions ?? []).map((one) => [one.text, one] as const)));
  if (texts.size === 0) return nothing;
  return html`<section id="cautions">
    <h2>Cautions</h2>
    <ul class="remarks">${[...texts.values()].map(({ text, source }) => html`<li>${text} <small>${source}</small></li>`)}</ul>
  </section>`;
}

export function foot(page: Page): TemplateResult {
  const version = page.state.result?.first ? (page.state.result.kind === "two" ? page.state.result.comparison.roulade : page.state.result.first.roulade) : "";
  return html`<footer>
    <p>Roulade ${version}<span class="printed">, ${new Date().toISOString().slice(0, 10)}</span>. Computed in this browser; nothing is sent anywhere. What is typed is kept in this browser at each keystroke, and in the address as a link.</p>
  </footer>`;
}
