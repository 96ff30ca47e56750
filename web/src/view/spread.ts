/** How far the figures spread when every uncertain entry is drawn at random, and what a figure leans on. */
import { html, nothing, type TemplateResult } from "lit-html";
import type { DrawnFigure, Leaning, LeaningQuestion, Sampled, SampledQuestion } from "../model/contract";
import type { Page } from "../page";
import { dataTable } from "./frame";
import { work } from "./study";
import { cellName, said, unbroken } from "./words";

const DRAWS = 20_000;

const cells = ({ state: { first, second } }: Page): { sheet: typeof first; second?: typeof first } => ({ sheet: first, ...(second && { second }) });

const WHOSE: Record<DrawnFigure["of"], (page: Page) => TemplateResult | string> = {
  first: (page) => cellName(page.state, "first"),
  second: (page) => cellName(page.state, "second"),
  change: () => "what lies between",
  hardware: () => "what the hardware alone buys",
};

export function spread(page: Page): TemplateResult {
  const drawn: SampledQuestion = { ...cells(page), draws: DRAWS };
  const leaning: LeaningQuestion = { ...cells(page), figure: page.state.shown.leaning, draws: DRAWS };
  const { sampled, leaning: shares } = page.state.studies;
  const figures = page.state.result?.first.headline ?? [];
  return html`<section id="spread">
    <h2>How sure the figures are</h2>
    <p class="note">On this page an uncertainty is carried through to first order: ± is one standard uncertainty, and twice that holds a figure with about 95 %. Drawing every uncertain entry at random shows whether that is enough.</p>
    ${work(page, { kind: "sampled", button: `draw ${DRAWS.toLocaleString("en")} cells`, asks: JSON.stringify(drawn), run: () => void page.bench.ask("sampled", drawn) })}
    ${sampled.answer ? draws(page, sampled.answer) : nothing}
    <h3>What a figure leans on</h3>
    <p class="controls"><label for="leaning-figure">of</label><select id="leaning-figure" @change=${(event: Event) => page.show({ leaning: (event.target as HTMLSelectElement).value })}>
      ${figures.map(({ id, label }) => html`<option value=${id} ?selected=${id === page.state.shown.leaning}>${label}</option>`)}</select></p>
    ${work(page, { kind: "leaning", button: "share out its uncertainty", asks: JSON.stringify(leaning), run: () => void page.bench.ask("leaning", leaning) })}
    ${shares.answer ? leans(page, shares.answer) : nothing}
  </section>`;
}

function draws(page: Page, told: Sampled): TemplateResult {
  return html`<p class="told">${said(told.answer)}</p>
    <div class="scroll" tabindex="0" role="region" aria-label="Draws and first order"><table class="figures wide">
      <caption class="unseen">Each figure as drawn, and to first order</caption>
      <thead><tr><td></td><th scope="col">drawn</th><th scope="col">95 % of the draws</th><th scope="col">95 % to first order</th><th scope="col">do they agree?</th></tr></thead>
      <tbody>${told.figures.map((one) => html`<tr><th scope="row">${one.label}${told.cells.length > 1 ? html`<small>${WHOSE[one.of](page)}</small>` : nothing}</th><td>${one.drawn.text}</td><td>${one.interval}</td><td>${one.first_order_interval}</td><td>${VERDICTS[one.verdict]}</td></tr>`)}</tbody>
    </table></div>
    <ul class="note">${told.remarks.map((remark) => html`<li>${unbroken(remark)}</li>`)}</ul>`;
}

const VERDICTS: Record<DrawnFigure["verdict"], string> = { agrees: "yes", differs: "no", open: "too few draws to tell" };

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`.replace("-", "−");

function leans(page: Page, told: Leaning): TemplateResult {
  return html`<p>${told.label}${told.of === "change" ? ", what lies between the cells" : ""}: ${told.figure.text}</p>
    <h4>Shares of the variance, to first order</h4>
    ${dataTable(page, "Shares of the variance", { heads: ["entry", "as written", "share to first order"], rows: told.shares.map(({ label, text, share }) => [label, text, percent(share)]) })}
    ${told.indices ? html`<h4>Sobol's indices, from draws</h4>${dataTable(page, "Sobol's indices", {
      heads: ["entry", "first: would go if it were known", "±", "total: would stay if all others were known", "±"],
      rows: told.indices.rows.map(({ labels, first, total }) => [labels.join(", "), percent(first[0]), percent(first[1]), percent(total[0]), percent(total[1])]),
    })}` : nothing}
    <ul class="note">${told.remarks.map((remark) => html`<li>${unbroken(remark)}</li>`)}</ul>`;
}
