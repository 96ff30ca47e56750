/** Declared figures against one another and against what is known: the verdict in words, the claim on the distribution, and what would have to be true. */
import { html, nothing, svg, type TemplateResult } from "../template";
import { axisBelow } from "../draw/axis";
import { scale } from "../draw/scale";
import type { ClaimAnswer, ClaimQuestion, ClaimsAnswer, Nearest } from "../model/contract";
import { inSize, sizeFrom } from "../declared";
import type { Page } from "../page";
import { dataTable, picture } from "./frame";
import { plot, spoken } from "./plot";
import { isOld, work } from "./study";
import { list, more, table } from "./table";
import { cut, nameOf, said as sentence, unbroken } from "./words";

/** The chance to better than one in a hundred, and several declared figures within a second. */
const DRAWS = 5_000;

/** Shown in an empty field; the figures are nobody's. */
const EXAMPLES = ["at least 700 Wh/L of the cell", "about 280 Wh/kg of the cell", "at least 5 % over the other cell per volume"];

/** Where there are two cells the claim is about the second, and compares with the first. */
function question(page: Page, claim: string): ClaimQuestion {
  const { first, second } = page.state;
  return { claim, sheet: second ?? first, ...(second && { other: first }), draws: DRAWS };
}

/** What is asked of the figures; a size among them is the size of a fresh sheet, as soon as it is written to its end. */
function said(page: Page, claim: string, whole: boolean): void {
  const { first, second } = page.state;
  const size = second ? null : sizeFrom(claim, whole);
  const edits = size ? inSize(first, size) : [];
  const [what, key] = ["the declared figures", "claim"];
  if (edits.length > 0) page.change({ edits: { first: edits }, what, key, to: { claim } });
  else page.set({ claim }, what, key);
}

export function claim(page: Page): TemplateResult {
  const { state } = page;
  const { answer } = state.studies.claim;
  const asked = question(page, state.claim);
  const stands = answer !== null && state.claim.trim() !== "" && state.studies.claim.problems.length === 0;
  const put = (whole: boolean) => (event: Event): void => said(page, (event.target as HTMLInputElement).value, whole);
  return html`<section id="claim">
    <form class="inline" @submit=${(event: SubmitEvent) => { event.preventDefault(); said(page, state.claim, true); }}>
      <label for="claim-text">declared of <bdi>${nameOf(state, state.second ? "second" : "first")}</bdi></label>
      <input id="claim-text" size="48" .value=${state.claim} list="claim-examples" placeholder="46 × 80, 26 Ah, 355 g, 300 Wh/kg, 750 Wh/L" @input=${put(false)} @change=${put(true)} />
      <datalist id="claim-examples">${EXAMPLES.slice(0, state.second ? 3 : 2).map((text) => html`<option value=${text}></option>`)}</datalist>
    </form>
    <p class="note">Paste what a data sheet says, between commas. A bare figure is taken as about that value; “at least”, “at most”, “minimum”, “at 0.2 It”, “with sleeve” and “charged to 4.2 V” are understood. A size sets the can of a fresh sheet.</p>
    ${state.claim.trim() ? work(page, { kind: "claim", name: "the verdict", asked, quick: true }) : nothing}
    ${stands ? html`<div class=${isOld(page, "claim", asked) ? "old" : ""}>${"consistency" in answer ? together(answer) : answered(page, answer)}</div>` : nothing}
  </section>`;
}

const titled = (name: string, heads: string[], rows: unknown[][], id = ""): TemplateResult => table({ name, titled: true, heads, rows, id, kind: "many" });

const signed = (value: number, digits: number): string => `${value < 0 ? "−" : "+"}${Math.abs(value).toFixed(digits)}`;

/** Several figures: against one another first, then each given the others. */
function together(checked: ClaimsAnswer): TemplateResult {
  const { rows } = checked.consistency;
  return html`<p class="finding ${checked.verdict}">${sentence(checked.answer)}</p>
    ${rows.length > 0 ? titled("Against one another, by arithmetic", ["arithmetic", "gives", "declared", "apart", "standard deviations"], rows.map((row) => [row.text, row.gives.text, row.declared, `${signed(100 * row.off, 1)} %`, signed(row.deviations, 1)]), "consistency") : nothing}
    ${titled("Each alone, and given all the others", ["declared", "expected", "verdict alone", "given the others", "verdict then"], checked.figures.map((row) => [html`${row.claim}<small>${row.how}</small>`, row.expected.text, html`${row.verdict}<small>chance ${unbroken(row.chance.text)}</small>`, row.given.text, html`${row.given_verdict}<small>chance ${unbroken(row.given_chance.text)}</small>`]), "declared")}
    ${titled("What they imply together", ["figure", "from the entries", "with all that is declared"], checked.implied.map((row) => [row.label, row.before.text, row.after.text]))}
    ${nearest(checked.nearest)}
    ${list(checked.remarks, "note")}`;
}

/** The most probable cell at the edge of the claim. */
function nearest(checked: Nearest | null): TemplateResult | typeof nothing {
  if (!checked) return nothing;
  return html`<p>${checked.text}</p>${checked.rows.length > 0 ? titled("What would have to be true together", ["quantity", "now", "needed", "standard deviations"], checked.rows.map((row) => [row.label, row.prior, row.needed, signed(row.deviations, 1)]), "nearest") : nothing}`;
}

function answered(page: Page, checked: ClaimAnswer): TemplateResult {
  return html`<p class="finding ${checked.verdict}">${sentence(checked.answer)}</p>
    ${picture(page, {
      id: "claim-picture",
      title: `${checked.claim.label}, ${checked.claim.unit}: prediction and claim`,
      drawing: draw(page, checked),
      caption: html`Each bar is a share of ${checked.histogram.draws} trials within the uncertainties of the entries. The shaded stretch is where the claim holds as it is written; ${checked.chance.text} of the trials lie in it
        (${checked.normal.text} for a normal distribution of the first-order uncertainty). ${checked.rounding.text}`,
      behind: () => ({ heads: [`from, ${checked.claim.unit}`, "to", "trials"], rows: checked.histogram.counts.map((count, i) => [checked.histogram.from + i * checked.histogram.step, checked.histogram.from + (i + 1) * checked.histogram.step, count]) }),
    })}
    ${nearest(checked.nearest)}
    ${checked.bases.length + checked.conventions.length > 1 ? titled("On other bases, under other conventions", ["declared as", "figure", "chance", "the claim is then"], [...checked.bases.map((row) => [html`${row.basis}${row.main ? " (as claimed)" : ""}<small>${row.text}</small>`, row.figure.text, row.chance.text, row.verdict]), ...checked.conventions.map((row) => [html`${row.name}<small>${row.text}</small>`, row.figure.text, row.chance.text, row.verdict])]) : nothing}
    ${checked.conventions_text ? html`<p class="note">${checked.conventions_text}</p>` : nothing}
    ${alone(checked)}
    ${checked.information.length > 0 ? html`<h3>Measurements that would settle it</h3>${table({
      name: "Readings that would settle the claim",
      caption: "Readings, the one that would settle the claim soonest first",
      heads: ["reading", "now", "one reading", "variance removed", "settles it"],
      rows: checked.information.map((one) => [html`${one.label}<small>${one.how}${one.opens ? "; the cell must be opened" : ""}</small>`, one.now, one.reading, `${Math.round(100 * one.takes)} %`, one.settles.text]),
    })}` : nothing}
    ${list(checked.remarks, "note")}
    <details class="behind"><summary>quantiles of the trials</summary>${dataTable(page, "Quantiles", { heads: ["share of the trials below", checked.claim.unit], rows: checked.histogram.quantiles })}</details>`;
}

/** Entries shown at once; the rest are there for those who ask. */
const FIRST = 10;

function alone(checked: ClaimAnswer): TemplateResult | typeof nothing {
  if (checked.required.length === 0) return nothing;
  const small = (words: unknown): TemplateResult => html`<small>${words}</small>`;
  const entries = (rows: ClaimAnswer["required"], name: string): TemplateResult => table({
    name,
    heads: ["entry, alone", "now", "would have to be", "plausible", "that is"],
    prose: [3, 4],
    rows: rows.map((one) => [
      one.label, one.prior, one.needed?.text ?? "–",
      [one.plausible ?? "–", one.source ? small(one.source) : nothing],
      [one.place_text, one.implies ? small(`it would make ${one.implies}`) : nothing],
    ]),
  });
  const rest = checked.required.slice(FIRST);
  return html`<h3>${checked.alone_to === "hold" ? "What would have to be true of one entry alone" : "What would have to change for the claim to fail"}</h3>
    ${entries(checked.required.slice(0, FIRST), "What each entry alone would have to be, the nearest first")}
    ${rest.length > 0 ? more(`${rest.length} further entries`, entries(rest, "What each further entry alone would have to be")) : nothing}`;
}

function draw(page: Page, { histogram, claim }: ClaimAnswer): TemplateResult {
  const { narrow } = page.state.shown;
  const [width, height] = narrow ? [340, 220] : [700, 260];
  const edge = { top: 26, right: 14, below: 48, left: 14 };
  const to = histogram.from + histogram.step * histogram.counts.length;
  const x = scale(Math.min(histogram.from, claim.over ? 0 : claim.value), Math.max(to, claim.value), edge.left, width - edge.right, narrow ? 4 : 8);
  const most = Math.max(...histogram.counts, 1);
  const ground = height - edge.below;
  const up = (count: number): number => (count / most) * (ground - edge.top - 16);
  const inside = (value: number): number => Math.max(edge.left, Math.min(width - edge.right, x(value)));
  const [from, until] = [claim.low === null ? edge.left : inside(claim.low), claim.high === null ? width - edge.right : inside(claim.high)];
  const drawing = svg`<rect x=${from} y=${edge.top} width=${Math.max(0, until - from)} height=${ground - edge.top} fill="var(--mark)" fill-opacity="0.28" />
    ${histogram.counts.map((count, i) => svg`<rect x=${x(histogram.from + i * histogram.step)} y=${ground - up(count)} width=${Math.max(0.5, x(histogram.from + (i + 1) * histogram.step) - x(histogram.from + i * histogram.step) - 0.6)} height=${up(count)} fill="var(--second)" />`)}
    <path d=${`M${x(claim.value)} ${edge.top - 4}V${ground}`} stroke="var(--warn)" stroke-width="2" fill="none" />
    <text class="strong" x=${narrow ? width / 2 : Math.min(Math.max(x(claim.value), 240), width - 240)} y=${edge.top - 10} text-anchor="middle">${cut(claim.text, narrow ? 40 : 80)}</text>
    ${axisBelow(x, ground, claim.unit)}`;
  return plot(page, {
    id: "claim-picture", width, height, drawing, steps: histogram.counts.length,
    at: (i) => ({ marks: [{ x: x(histogram.from + (i + 0.5) * histogram.step), y: ground - up(histogram.counts[i] ?? 0), colour: "var(--second)" }], across: { from: edge.top, to: ground }, words: `${spoken(histogram.from + i * histogram.step, "")} to ${spoken(histogram.from + (i + 1) * histogram.step, claim.unit)}: ${histogram.counts[i] ?? 0} of ${histogram.draws} trials` }),
  });
}
