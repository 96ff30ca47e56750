/** A declared figure against what is known: the verdict in words, the claim on the distribution, and what would have to be true. */
import { html, nothing, svg, type TemplateResult } from "lit-html";
import { axisBelow } from "../draw/axis";
import { scale } from "../draw/scale";
import type { ClaimAnswer, ClaimQuestion, Verdict } from "../model/contract";
import { declaredFrom, withDeclared } from "../declared";
import type { Page } from "../page";
import type { DeclaredRow } from "../state";
import { dataTable, picture } from "./frame";
import { plot, spoken } from "./plot";
import { isOld, work } from "./study";
import { cut, nameOf, said, unbroken } from "./words";

const DRAWS = 10_000;

/** Shown in an empty field; the figures are nobody's. */
const EXAMPLES = ["at least 700 Wh/L of the cell", "about 280 Wh/kg of the cell", "at least 5 % over the other cell per volume"];

/** Where there are two cells the claim is about the second, and compares with the first. */
function question(page: Page, claim: string): ClaimQuestion {
  const { first, second } = page.state;
  return { claim, sheet: second ?? first, ...(second && { other: first }), draws: DRAWS };
}

const WORDS: Record<Verdict, string> = {
  supported: "supported",
  likely: "likely",
  open: "open",
  unlikely: "unlikely",
  contradicted: "contradicted",
};

/** What is asked: the first of the declared figures in full, and all of them in short where there are several. */
async function check(page: Page): Promise<void> {
  const { state } = page;
  const declared = declaredFrom(state.claim);
  const side = state.second ? "second" : "first";
  const sheet = state.second ?? state.first;
  const stated = withDeclared(sheet, declared);
  page.rest();
  if (stated !== sheet && JSON.stringify(stated) !== JSON.stringify(sheet)) page.set({ [side]: stated }, "the declared size and mass");
  void page.jobs.ask("claim", question(page, declared.claims[0] ?? state.claim));
  state.declared = null;
  if (declared.claims.length < 2) return;
  const asked = declared.claims.map((claim) => question(page, claim));
  const rows: DeclaredRow[] = [];
  for (const one of asked) {
    const answer = await page.jobs.once("claim", one);
    const told = answer && "ok" in answer ? answer.ok : null;
    rows.push({ claim: one.claim, verdict: told?.verdict ?? null, known: told?.figure.text ?? "–", chance: told?.chance.text ?? "–", why: answer && "problems" in answer ? answer.problems.map(({ text }) => text).join(" ") : "" });
  }
  state.declared = { asked: JSON.stringify(asked), rows };
  page.draw();
}

export function claim(page: Page): TemplateResult {
  const { state } = page;
  const { answer } = state.studies.claim;
  const declared = declaredFrom(state.claim);
  const asked = question(page, declared.claims[0] ?? state.claim);
  const submit = (event: SubmitEvent): void => {
    event.preventDefault();
    void check(page);
  };
  const stands = answer !== null && state.studies.claim.problems.length === 0;
  const all = state.declared && state.declared.asked === JSON.stringify(declared.claims.map((one) => question(page, one))) ? state.declared.rows : null;
  return html`<section id="claim">
    <form class="inline" @submit=${submit}>
      <label for="claim-text">declared of <bdi>${nameOf(state, state.second ? "second" : "first")}</bdi></label>
      <input id="claim-text" size="48" .value=${state.claim} list="claim-examples" placeholder="46 × 80, 26 Ah, 355 g, 300 Wh/kg, 750 Wh/L" @input=${(event: Event) => page.set({ claim: (event.target as HTMLInputElement).value }, "the declared figure", "claim")} />
      <button type="submit">Check it</button>
      <datalist id="claim-examples">${EXAMPLES.slice(0, state.second ? 3 : 2).map((text) => html`<option value=${text}></option>`)}</datalist>
    </form>
    <p class="note">Paste what a data sheet says: a size and a mass become entries of the sheet, everything else is checked. A bare figure is taken as about that value; “at least” and “at most” are understood.</p>
    ${state.studies.claim.share !== null || state.studies.claim.problems.length > 0 || stands ? work(page, { kind: "claim", name: "the verdict", asked, quick: false, button: "Check again" }) : nothing}
    ${all ? html`<div class="scroll" tabindex="0" role="region" aria-label="All declared figures"><table class="figures wide" id="declared">
      <caption>All declared figures, each against the same cell</caption>
      <thead><tr><th scope="col">declared</th><th scope="col">expected from what is known</th><th scope="col">chance</th><th scope="col">the claim is</th></tr></thead>
      <tbody>${all.map((row) => html`<tr><th scope="row">${row.claim}</th><td>${row.known}</td><td>${row.chance}</td><td class=${row.why ? "prose" : ""}>${row.verdict ? WORDS[row.verdict] : row.why}</td></tr>`)}</tbody>
    </table></div>` : nothing}
    ${stands ? html`<div class=${isOld(page, "claim", asked) ? "old" : ""}>${answered(page, answer)}</div>` : nothing}
  </section>`;
}

function answered(page: Page, told: ClaimAnswer): TemplateResult {
  return html`<p class="told ${told.verdict}">${said(told.answer)}</p>
    ${picture(page, {
      id: "claim-picture",
      title: `${told.claim.label}, ${told.claim.unit}: what is known, and what is claimed`,
      drawing: draw(page, told),
      caption: html`Each bar is a share of ${told.strip.draws} trials from what is known of the entries. The shaded stretch is where the claim holds as it is written; ${told.chance.text} of the trials lie in it
        (${told.normal.text} for a normal distribution of the first-order uncertainty). ${told.rounding.text} ${told.nearest?.text ?? ""}`,
      behind: () => ({ heads: [`from, ${told.claim.unit}`, "to", "trials"], rows: told.strip.counts.map((count, i) => [told.strip.from + i * told.strip.step, told.strip.from + (i + 1) * told.strip.step, count]) }),
    })}
    ${told.bases.length > 1 ? html`<div class="scroll" tabindex="0" role="region" aria-label="The claim on each basis"><table class="figures wide">
      <caption>On another basis</caption>
      <thead><tr><th scope="col">basis</th><th scope="col">figure</th><th scope="col">chance</th><th scope="col">the claim is then</th></tr></thead>
      <tbody>${told.bases.map(({ basis, text, figure, chance, verdict, main }) => html`<tr><th scope="row">${basis}${main ? " (as claimed)" : ""}<small>${text}</small></th><td>${figure.text}</td><td>${chance.text}</td><td>${WORDS[verdict]}</td></tr>`)}</tbody>
    </table></div>` : nothing}
    ${alone(told)}
    ${told.settle.length > 0 ? html`<h3>Measurements that would settle it</h3><div class="scroll" tabindex="0" role="region" aria-label="Readings that would settle the claim"><table class="figures wide">
      <caption class="unseen">Readings, the one that would settle the claim soonest first</caption>
      <thead><tr><th scope="col">reading</th><th scope="col">known now</th><th scope="col">one reading</th><th scope="col">takes off the variance</th><th scope="col">settles it</th></tr></thead>
      <tbody>${told.settle.map((one) => html`<tr><th scope="row">${one.label}<small>${one.how}${one.opens ? "; the cell must be opened" : ""}</small></th><td>${one.now}</td><td>${one.reading}</td><td>${Math.round(100 * one.takes)} %</td><td>${one.settles.text}</td></tr>`)}</tbody>
    </table></div>` : nothing}
    <ul class="note">${told.remarks.map((remark) => html`<li>${unbroken(remark)}</li>`)}</ul>
    <details class="behind"><summary>quantiles of the trials</summary>${dataTable(page, "Quantiles", { heads: ["share of the trials below", told.claim.unit], rows: told.strip.quantiles })}</details>`;
}

/** Entries shown at once; the rest are there for those who ask. */
const FIRST = 10;

function alone(told: ClaimAnswer): TemplateResult | typeof nothing {
  if (told.alone.length === 0) return nothing;
  const table = (rows: ClaimAnswer["alone"], name: string): TemplateResult => html`<div class="scroll" tabindex="0" role="region" aria-label=${name}><table class="figures wide">
    <caption class="unseen">${name}</caption>
    <thead><tr><th scope="col">entry, alone</th><th scope="col">as it is known</th><th scope="col">would have to be</th><th scope="col" class="prose">plausible</th><th scope="col" class="prose">that is</th></tr></thead>
    <tbody>${rows.map((one) => html`<tr><th scope="row">${one.label}</th><td>${one.known}</td><td>${one.needed?.text ?? "–"}</td>
      <td class="prose">${one.plausible ?? "–"}${one.source ? html`<small>${one.source}</small>` : nothing}</td><td class="prose">${one.place_text}${one.implies ? html`<small>it would make ${one.implies}</small>` : nothing}</td></tr>`)}</tbody>
  </table></div>`;
  const rest = told.alone.slice(FIRST);
  return html`<h3>${told.alone_to === "hold" ? "What would have to be true" : "What would have to be otherwise for it to fail"}</h3>
    ${table(told.alone.slice(0, FIRST), "What each entry alone would have to be, the nearest first")}
    ${rest.length > 0 ? html`<details class="more" data-print><summary>${rest.length} further entries</summary>${table(rest, "What each further entry alone would have to be")}</details>` : nothing}`;
}

function draw(page: Page, { strip, claim }: ClaimAnswer): TemplateResult {
  const { narrow } = page.state.shown;
  const [width, height] = narrow ? [340, 220] : [700, 260];
  const edge = { top: 26, right: 14, below: 48, left: 14 };
  const to = strip.from + strip.step * strip.counts.length;
  const x = scale(Math.min(strip.from, claim.over ? 0 : claim.value), Math.max(to, claim.value), edge.left, width - edge.right, narrow ? 4 : 8);
  const most = Math.max(...strip.counts, 1);
  const ground = height - edge.below;
  const up = (count: number): number => (count / most) * (ground - edge.top - 16);
  const inside = (value: number): number => Math.max(edge.left, Math.min(width - edge.right, x(value)));
  const [from, until] = [claim.low === null ? edge.left : inside(claim.low), claim.high === null ? width - edge.right : inside(claim.high)];
  const drawing = svg`<rect x=${from} y=${edge.top} width=${Math.max(0, until - from)} height=${ground - edge.top} fill="var(--mark)" fill-opacity="0.28" />
    ${strip.counts.map((count, i) => svg`<rect x=${x(strip.from + i * strip.step)} y=${ground - up(count)} width=${Math.max(0.5, x(strip.from + (i + 1) * strip.step) - x(strip.from + i * strip.step) - 0.6)} height=${up(count)} fill="var(--second)" />`)}
    <path d=${`M${x(claim.value)} ${edge.top - 4}V${ground}`} stroke="var(--warn)" stroke-width="2" fill="none" />
    <text class="strong" x=${narrow ? width / 2 : Math.min(Math.max(x(claim.value), 240), width - 240)} y=${edge.top - 10} text-anchor="middle">${cut(claim.text, narrow ? 40 : 80)}</text>
    ${axisBelow(x, ground, claim.unit)}`;
  return plot(page, {
    id: "claim-picture", width, height, drawing, steps: strip.counts.length,
    at: (i) => ({ marks: [{ x: x(strip.from + (i + 0.5) * strip.step), y: ground - up(strip.counts[i] ?? 0), colour: "var(--second)" }], across: { from: edge.top, to: ground }, words: `${spoken(strip.from + i * strip.step, "")} to ${spoken(strip.from + (i + 1) * strip.step, claim.unit)}: ${strip.counts[i] ?? 0} of ${strip.draws} trials` }),
  });
}
