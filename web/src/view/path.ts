/** Resistance along the current path from terminal to terminal: what each element holds back, and how warm it gets. */
import { html, nothing, type TemplateResult } from "../template";
import type { Change, PathLine } from "../model/contract";
import type { Page } from "../page";
import { changed } from "./figures";
import { takeAway } from "./frame";
import { table } from "./table";
import { bare, cellName } from "./words";

export function path(page: Page): TemplateResult | typeof nothing {
  const { result } = page.state;
  if (!result) return nothing;
  const { current, temperature } = result.first.path;
  return html`<section id="path">
    <h2>${NAME}</h2>
    <p class="note">Direct-current resistance of metals, joints and, in one line, of all that is electrochemical; heat at ${current.text}${result.kind === "two" ? ` and ${result.second.path.current.text}` : ""}, metals at ${temperature.text}.</p>
    ${result.kind === "two" ? both(page, result.comparison.path) : single(page, result.first.path.lines, result.first.path.totals)}
  </section>`;
}

const NAME = "Resistance along the current path";

function single(page: Page, lines: PathLine[], totals: PathLine[]): TemplateResult {
  const row = ({ line, resistance, heat, share }: PathLine): string[] => [line, bare(resistance), bare(heat), bare(share)];
  return html`${table({ name: NAME, caption: `${NAME}, element by element`, heads: ["", "resistance, mΩ", "heat, W", "share, %"], rows: lines.map(row), foot: totals.map(row) })}
    ${takeAway(page, NAME, () => [["element", "mΩ", "W", "%"], ...[...lines, ...totals].map(({ line, resistance, heat, share }) => [line, resistance.value, heat.value, share.value])])}`;
}

function both(page: Page, lines: { line: string; resistance: Change; heat: Change }[]): TemplateResult {
  const [first, second] = [cellName(page.state, "first"), cellName(page.state, "second")];
  return html`${table({
      name: NAME,
      caption: `${NAME} in both cells, element by element`,
      heads: ["", html`${first}, mΩ`, html`${second}, mΩ`, "change", html`${first}, W`, html`${second}, W`],
      rows: lines.map(({ line, resistance, heat }) => [line, bare(resistance.first), bare(resistance.second), changed(resistance), bare(heat.first), bare(heat.second)]),
    })}
    ${takeAway(page, NAME, () => [
      ["element", "first, mΩ", "second, mΩ", "first, W", "second, W"],
      ...lines.map(({ line, resistance, heat }) => [line, resistance.first.value, resistance.second.value, heat.first.value, heat.second.value]),
    ])}`;
}
