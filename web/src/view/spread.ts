/** How sure the figures are: Monte Carlo beside the law of propagation, and which entries the uncertainty comes from. */
import { html, nothing, svg, type TemplateResult } from "lit-html";
import { axisBelow } from "../draw/axis";
import { scale } from "../draw/scale";
import type { DrawnFigure, Leaning, LeaningQuestion, Sampled, SampledQuestion } from "../model/contract";
import type { Page } from "../page";
import { picture } from "./frame";
import { plot, spoken, type Reading } from "./plot";
import { isOld, work } from "./study";
import { cellName, cut, said, unbroken } from "./words";

const TRIALS = 20_000;
/** Bars of the tornado; the rest stand in its table. */
const MOST_BARS = 12;

const cells = ({ state: { first, second } }: Page): { sheet: typeof first; second?: typeof first } => ({ sheet: first, ...(second && { second }) });

const WHOSE: Record<DrawnFigure["of"], (page: Page) => TemplateResult | string> = {
  first: (page) => cellName(page.state, "first"),
  second: (page) => cellName(page.state, "second"),
  change: () => "change",
  hardware: () => "what the hardware alone buys",
};

export function spread(page: Page): TemplateResult {
  const drawn: SampledQuestion = { ...cells(page), draws: TRIALS };
  const leaning: LeaningQuestion = { ...cells(page), figure: page.state.shown.leaning };
  const { sampled, leaning: shares } = page.state.studies;
  const figures = page.state.result?.first.headline ?? [];
  return html`<section id="spread">
    <h3>Sensitivity: contributions to variance</h3>
    <p class="controls"><label for="leaning-figure">of</label><select id="leaning-figure" @change=${(event: Event) => page.show({ leaning: (event.target as HTMLSelectElement).value })}>
      ${figures.map(({ id, label }) => html`<option value=${id} ?selected=${id === page.state.shown.leaning}>${label}</option>`)}</select></p>
    ${work(page, { kind: "leaning", name: "the contributions to variance", asked: leaning, quick: true })}
    ${shares.answer ? html`<div class=${isOld(page, "leaning", leaning) ? "old" : ""}>${leans(page, shares.answer)}</div>` : nothing}
    <h3>Monte Carlo, ${TRIALS.toLocaleString("en")} trials</h3>
    <p class="note">The page carries an uncertainty through to first order (law of propagation): ± is one standard uncertainty, and twice that holds a figure with about 95 %. Trials, in which every uncertain entry is drawn at random, show whether that is enough.</p>
    ${work(page, { kind: "sampled", name: "the trials", asked: drawn, quick: true, insight: "sure" })}
    ${sampled.answer ? html`<div class=${isOld(page, "sampled", drawn) ? "old" : ""}>${draws(page, sampled.answer)}</div>` : nothing}
  </section>`;
}

function draws(page: Page, told: Sampled): TemplateResult {
  return html`<p class="told">${said(told.answer)}</p>
    <div class="scroll" tabindex="0" role="region" aria-label="Trials and first order"><table class="figures wide">
      <caption class="unseen">Each figure by trials, and to first order</caption>
      <thead><tr><td></td><th scope="col">by trials</th><th scope="col">95 % of the trials</th><th scope="col">95 % to first order</th><th scope="col">do they agree?</th></tr></thead>
      <tbody>${told.figures.map((one) => html`<tr><th scope="row">${one.label}${told.cells.length > 1 ? html`<small>${WHOSE[one.of](page)}</small>` : nothing}</th><td>${one.drawn.text}</td><td>${one.interval}</td><td>${one.first_order_interval}</td><td>${VERDICTS[one.verdict]}</td></tr>`)}</tbody>
    </table></div>
    <ul class="note">${told.remarks.map((remark) => html`<li>${unbroken(remark)}</li>`)}</ul>`;
}

const VERDICTS: Record<DrawnFigure["verdict"], string> = { agrees: "yes", differs: "no", open: "too few trials to tell" };

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`.replace("-", "−");

function leans(page: Page, told: Leaning): TemplateResult {
  return picture(page, {
    id: "tornado",
    title: `${told.label}${told.of === "change" ? ", change" : ""}: ${told.figure.text}`,
    drawing: tornado(page, told),
    caption: html`Each bar: how far the figure moves when the entry alone moves by one standard uncertainty either way. Their squares add up to the square of the whole.`,
    behind: () => ({ heads: ["entry", "as written", "contribution to the variance"], rows: told.shares.map(({ label, text, share }) => [label, text, percent(share)]) }),
  });
}

function tornado(page: Page, told: Leaning): TemplateResult {
  const { narrow } = page.state.shown;
  const bars = told.shares.filter(({ share }) => share > 0).slice(0, MOST_BARS);
  const [width, row] = [narrow ? 340 : 700, 34];
  const height = bars.length * row + 54;
  const u = told.figure.u ?? 0;
  const reach = bars.map(({ share }) => u * Math.sqrt(share));
  const most = Math.max(...reach, 1e-12);
  const x = scale(-most, most, 12, width - 12, narrow ? 4 : 8);
  const reading = (i: number): Reading => ({ marks: [{ x: x(reach[i] ?? 0), y: i * row + 24, colour: "var(--second)" }], words: `${bars[i]?.label}, ${bars[i]?.text}: ± ${spoken(reach[i], told.figure.unit, 2)}, ${percent(bars[i]?.share ?? 0)} of the variance` });
  const drawing = svg`<path d=${`M${x(0)} 0V${height - 46}`} stroke="var(--soft)" fill="none" />
    ${bars.map(({ label, share }, i) => svg`<text x="12" y=${i * row + 13}>${cut(label, narrow ? 34 : 80)}</text><text x=${width - 12} y=${i * row + 13} text-anchor="end">${percent(share)}</text>
      <rect x=${x(-(reach[i] ?? 0))} y=${i * row + 18} width=${Math.max(1, x(reach[i] ?? 0) - x(-(reach[i] ?? 0)))} height="11" fill="var(--second)" />`)}
    ${axisBelow(x, height - 44, `± ${told.figure.unit}`)}`;
  return plot(page, { id: "tornado", width, height, drawing, steps: bars.length, at: reading });
}
