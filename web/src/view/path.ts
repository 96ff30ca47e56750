/** Resistance along the current path from terminal to terminal: what each element holds back, and how warm it gets. */
import { html, nothing, type TemplateResult } from "../template";
import type { Change, Figure, PathLine } from "../model/contract";
import type { Page } from "../page";
import { changed } from "./figures";
import { takeAway } from "./frame";
import { bare, cellName } from "./words";

export function path(page: Page): TemplateResult | typeof nothing {
  const { result } = page.state;
  if (!result) return nothing;
  const { current, temperature } = result.first.path;
  return html`<section id="path">
    <h2>Resistance along the current path</h2>
    <p class="note">Direct-current resistance of metals, joints and, in one line, of all that is electrochemical; heat at ${current.text}${result.kind === "two" ? ` and ${result.second.path.current.text}` : ""}, metals at ${temperature.text}.</p>
    ${result.kind === "two" ? both(page, result.comparison.path) : single(page, result.first.path.lines, result.first.path.totals)}
  </section>`;
}

const head = (name: string): TemplateResult => html`<th scope="col">${name}</th>`;

function single(page: Page, lines: PathLine[], totals: PathLine[]): TemplateResult {
  const row = ({ line, resistance, heat, share }: PathLine, whole: boolean): TemplateResult => html`<tr class=${whole ? "whole" : ""}><th scope="row">${line}</th><td>${bare(resistance)}</td><td>${bare(heat)}</td><td>${bare(share)}</td></tr>`;
  const plain = ({ value }: Figure): number => value;
  return html`<div class="scroll" tabindex="0" role="region" aria-label="Resistance along the current path"><table class="figures wide">
      <caption class="unseen">Resistance along the current path, element by element</caption>
      <thead><tr><td></td>${["resistance, mΩ", "heat, W", "share, %"].map(head)}</tr></thead>
      <tbody>${lines.map((line) => row(line, false))}</tbody><tfoot>${totals.map((line) => row(line, true))}</tfoot>
    </table></div>
    ${takeAway(page, "Resistance along the current path", () => [["element", "mΩ", "W", "%"], ...[...lines, ...totals].map(({ line, resistance, heat, share }) => [line, plain(resistance), plain(heat), plain(share)])])}`;
}

function both(page: Page, lines: { line: string; resistance: Change; heat: Change }[]): TemplateResult {
  return html`<div class="scroll" tabindex="0" role="region" aria-label="Resistance along the current path"><table class="figures wide">
      <caption class="unseen">Resistance along the current path in both cells, element by element</caption>
      <thead><tr><td></td><th scope="col">${cellName(page.state, "first")}, mΩ</th><th scope="col">${cellName(page.state, "second")}, mΩ</th>${head("change")}<th scope="col">${cellName(page.state, "first")}, W</th><th scope="col">${cellName(page.state, "second")}, W</th></tr></thead>
      <tbody>${lines.map(({ line, resistance, heat }) => html`<tr><th scope="row">${line}</th><td>${bare(resistance.first)}</td><td>${bare(resistance.second)}</td><td class="change">${changed(resistance)}</td><td>${bare(heat.first)}</td><td>${bare(heat.second)}</td></tr>`)}</tbody>
    </table></div>
    ${takeAway(page, "Resistance along the current path", () => [
      ["element", "first, mΩ", "second, mΩ", "first, W", "second, W"],
      ...lines.map(({ line, resistance, heat }) => [line, resistance.first.value, resistance.second.value, heat.first.value, heat.second.value]),
    ])}`;
}
