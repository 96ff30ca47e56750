/** What lies between the two cells, shared among the changes that were made: a bar for each, which together make the whole. */
import { html, nothing, svg, type TemplateResult } from "../template";
import { axisBelow } from "../draw/axis";
import { scale } from "../draw/scale";
import type { Amount, AttributeAnswer, AttributeQuestion, ContributionTable } from "../model/contract";
import type { Page } from "../page";
import { picture } from "./frame";
import { isOld, work } from "./study";
import { choice, heard, list, more, table } from "./table";
import { cellName, cut, withUnit } from "./words";

const DRAWS = 200;

function question(page: Page): AttributeQuestion | null {
  const { first, second, changes, prices } = page.state;
  return second && { first, second, draws: DRAWS, ...(changes && { changes }), ...(prices && { prices }) };
}

export function contributions(page: Page): TemplateResult | typeof nothing {
  const asked = question(page);
  if (!asked) return nothing;
  const { answer } = page.state.studies.attribute;
  return html`<section id="contributions">
    <h3>Contribution of each change</h3>
    <p class="note">All that differs between ${cellName(page.state, "first")} and ${cellName(page.state, "second")} belongs to one change or another. The contribution of a change is what it brings on
      average over all orders in which the changes could be made (Shapley value).</p>
    ${work(page, { kind: "attribute", name: "the contributions", asked, quick: true, insight: "part" })}
    ${answer ? html`<div class=${isOld(page, "attribute", asked) ? "old" : ""}>${answered(page, answer)}</div>` : nothing}
  </section>`;
}

function answered(page: Page, answer: AttributeAnswer): TemplateResult {
  const { merit } = page.state.shown;
  const shared = answer.figures.find(({ id }) => id === merit) ?? answer.figures[0];
  if (!shared || shared.rows.length === 0) return html`<p>${answer.answer.runs.map(({ text }) => text).join("")}</p>`;
  return html`${picture(page, {
      id: "contributions-picture",
      title: withUnit(shared.label, shared.unit),
      controls: html`<p class="controls">${choice("contributions-figure", "figure", answer.figures.map(({ id, label, unit }) => [id, withUnit(label, unit)]), shared.id, (merit) => page.show({ merit }))}</p>`,
      drawing: draw(page, shared),
      caption: html`From the top each bar begins where the one above it ends; the last is the whole. A line across the end of a bar: its 95 % interval.
        The open mark is the change made before all others, the full one after all others: far apart, the change depends on the others.`,
      behind: () => ({
        heads: ["change", `contribution, ${shared.unit}`, "u", "from", "to", "made first", "made last", "standard error of sampled orders"],
        rows: [...shared.rows, { change: "the whole", contribution: shared.whole, first_in: null, last_in: null, standard_error: null }].map(({ change, contribution, first_in, last_in, standard_error }) => [
          change, contribution.value, contribution.u ?? null, contribution.interval?.[0] ?? null, contribution.interval?.[1] ?? null, first_in?.value ?? null, last_in?.value ?? null, standard_error ?? null,
        ]),
      }),
    })}
    ${shared.pairs.length > 0 ? html`<h3>Changes that depend on one another</h3>${list(shared.pairs.map(({ text }) => `${text}.`))}` : nothing}
    ${grouping(page, answer)}${prices(page, answer)}
    ${list(answer.remarks, "note")}`;
}

function draw(page: Page, table: ContributionTable): TemplateResult {
  const { narrow } = page.state.shown;
  const width = narrow ? 340 : 700;
  const row = 50;
  const ends = (from: number, ...of: (Amount | null)[]): number[] => of.flatMap((amount) => (amount ? [from + amount.value, ...(amount.interval?.map((end) => from + end) ?? [])] : []));
  let from = 0;
  const bars = table.rows.map((one) => {
    const bar = { ...one, from };
    from += one.contribution.value;
    return bar;
  });
  const all = [0, ...bars.flatMap((bar) => ends(bar.from, bar.contribution, bar.first_in, bar.last_in)), ...ends(0, table.whole)];
  const height = (bars.length + 1) * row + 60;
  const x = scale(Math.min(...all), Math.max(...all), 12, width - 12, narrow ? 5 : 8);
  const bar = (name: string, begins: number, amount: Amount, y: number, kind: string): TemplateResult["strings"] | unknown => {
    const [a, b] = [x(begins), x(begins + amount.value)];
    return svg`<text class="strong" x=${12} y=${y + 14}>${cut(name, narrow ? 26 : 60)}</text><text x=${width - 12} y=${y + 14} text-anchor="end">${amount.text}</text>
      <rect class=${kind} x=${Math.min(a, b)} y=${y + 20} width=${Math.max(1, Math.abs(b - a))} height="14" fill=${kind === "whole" ? "var(--ink)" : amount.value < 0 ? "var(--first)" : "var(--second)"} />
      ${amount.interval ? svg`<path d=${`M${x(begins + amount.interval[0])} ${y + 27}H${x(begins + amount.interval[1])}M${x(begins + amount.interval[0])} ${y + 22}v10M${x(begins + amount.interval[1])} ${y + 22}v10`} stroke="var(--mark)" stroke-width="2" fill="none" />` : nothing}`;
  };
  const mark = (at: number, y: number, full: boolean): unknown => svg`<path d=${`M${x(at)} ${y}l-5 8h10z`} fill=${full ? "var(--ink)" : "var(--paper)"} stroke="var(--ink)" />`;
  return html`<svg class="picture contributions" viewBox="0 0 ${width} ${height}" role="img" aria-labelledby="contributions-picture-title">
    <path d=${`M${x(0)} 0V${height - 46}`} stroke="var(--soft)" fill="none" />
    ${bars.map(({ change, contribution, first_in, last_in, from: begins }, i) => svg`<g data-change=${change}>${bar(change, begins, contribution, i * row, "attribute")}
      ${first_in ? mark(begins + first_in.value, i * row + 35, false) : nothing}${last_in ? mark(begins + last_in.value, i * row + 35, true) : nothing}</g>`)}
    <g data-change="the whole">${bar("the whole", 0, table.whole, bars.length * row, "whole")}</g>
    ${axisBelow(x, height - 44, table.unit)}
  </svg>`;
}

/** What moves with each change; any entry can be given to another change. */
function grouping(page: Page, answer: AttributeAnswer): TemplateResult {
  const { changes } = page.state;
  const move = (key: string, to: string): void => {
    const names = new Map((answer.grouping.changes ?? []).map(({ name, keys }) => [name ?? "", (keys ?? []).filter((one) => one !== key)]));
    names.set(to, [...(names.get(to) ?? []), key]);
    page.set({ changes: { changes: [...names].filter(([, keys]) => keys.length > 0).map(([name, keys]) => ({ name, keys })) } }, "the grouping of changes");
  };
  const own = (key: string): string => `${key} alone`;
  const name = "What belongs to each change";
  return more(name, html`${table({
      name,
      caption: "Every entry that differs, and the change it belongs to",
      heads: ["entry", cellName(page.state, "first"), cellName(page.state, "second"), "change"],
      rows: answer.changes.flatMap(({ name, moves }) => moves.map(({ key, first, second }) => [key, first || "–", second || "–", html`<select aria-label="change of ${key}" @change=${heard((to) => move(key, to))}>
          ${answer.changes.map((one) => html`<option value=${one.name} ?selected=${one.name === name}>${one.name}</option>`)}
          ${moves.length > 1 ? html`<option value=${own(key)}>a change of its own</option>` : nothing}</select>`])),
    })}
    ${changes ? html`<button type="button" class="plain" @click=${() => page.set({ changes: null }, "the grouping of changes")}>group by part and cell design again</button>` : nothing}`);
}

/** Prices that people type; what has none is left out of the cost, and said. */
function prices(page: Page, answer: AttributeAnswer): TemplateResult {
  const { prices } = page.state;
  if (!prices) return html`<p class="controls"><button type="button" class="plain" @click=${() => page.set({ prices: { currency: "", per_kg: {} } }, "prices")}>with prices</button></p>`;
  const known = Object.keys(prices.per_kg ?? {});
  const names = [...known, ...(answer.prices?.unpriced ?? []).filter((name) => !known.includes(name))];
  const set = (name: string, text: string): void => {
    const { [name]: _, ...others } = prices.per_kg ?? {};
    const price = Number(text.replace(",", "."));
    page.set({ prices: { ...prices, per_kg: text.trim() === "" || !(price >= 0) ? others : { ...others, [name]: price } } }, "prices");
  };
  return html`<details class="more" open><summary>Prices</summary>
    <p class="controls"><label for="currency">currency</label><input id="currency" size="8" .value=${prices.currency ?? ""} @change=${heard((currency) => page.set({ prices: { ...prices, currency } }, "prices"))} />
      <button type="button" class="plain" @click=${() => page.set({ prices: null }, "prices")}>without prices</button></p>
    <div class="prices">${names.map((name) => html`<label>${name}, per kg <input size="8" inputmode="decimal" .value=${String(prices.per_kg?.[name] ?? "")} @change=${heard((text) => set(name, text))} /></label>`)}</div>
    <p class="note">What has no price is left out of the cost.</p>
  </details>`;
}

