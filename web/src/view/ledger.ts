/** Every gram and every cubic millimetre, both cells side by side. */
import { html, nothing, type TemplateResult } from "../template";
import type { Datum } from "../draw/save";
import type { Side } from "../entry";
import type { Figure, LedgerLine } from "../model/contract";
import type { Page } from "../page";
import { estimateOf, sidesOf, type State } from "../state";
import { takeAway } from "./frame";
import { bare, cellName, nameOf, unbroken } from "./words";

interface Line {
  group: string;
  line: string;
  how: string;
  mass: Partial<Record<Side, Figure>>;
  volume: Partial<Record<Side, Figure>>;
  massChange: Figure | null;
  volumeChange: Figure | null;
}

type By = "group" | "line" | "how" | `${"mass" | "volume"} ${Side | "change"}`;

export function ledger(page: Page): TemplateResult | typeof nothing {
  const { state } = page;
  if (!state.result) return nothing;
  const sides = sidesOf(state).filter((side) => estimateOf(state, side));
  const lines = sorted(collect(state, sides), state.shown.sort);
  const groups = [...new Set(sides.flatMap((side) => estimateOf(state, side)?.ledger.totals.map(({ group }) => group) ?? []))];
  const columns = [...sides, ...(sides.length > 1 ? (["change"] as const) : [])];
  const head = (by: By, label: TemplateResult | string): TemplateResult => sortable(page, by, label);
  const heads = (kind: "mass" | "volume"): TemplateResult[] => columns.map((of) => head(`${kind} ${of}`, of === "change" ? "change" : cellName(state, of)));
  return html`<section id="ledger">
    <h2>Ledger of mass and volume</h2>
    <p class="note">Every gram and every cubic centimetre stands on one line. ${sides.map((side) => closing(state, side))}</p>
    <div class="scroll" tabindex="0" role="region" aria-label="Ledger"><table class="ledger">
      <caption class="unseen">Ledger of mass and volume; the buttons in the heads sort it</caption>
      <thead>
        <tr><td colspan="3"></td><th scope="colgroup" colspan=${columns.length}>mass, g</th><th scope="colgroup" colspan=${columns.length}>volume, cm³</th></tr>
        <tr>${head("group", "group")}${head("line", "line")}${head("how", "how")}${heads("mass")}${heads("volume")}</tr>
      </thead>
      <tbody>${lines.map((one, i) => html`<tr><td><span class=${!state.shown.sort && lines[i - 1]?.group === one.group ? "unseen" : ""}>${one.group}</span></td><th scope="row">${one.line}</th><td>${one.how}</td>${cells(columns, one)}</tr>`)}</tbody>
      <tfoot>${groups.map((group) => {
        const total = (side: Side) => estimateOf(state, side)?.ledger.totals.find((one) => one.group === group);
        return html`<tr class=${group === "cell" ? "whole" : ""}><td>${group === "cell" ? nothing : group}</td><th scope="row">${group === "cell" ? "the cell" : "in all"}</th><td></td>
          ${(["mass", "volume"] as const).map((kind) => columns.map((of) => html`<td class="number">${of === "change" ? nothing : shown(total(of)?.[kind])}</td>`))}</tr>`;
      })}</tfoot>
    </table></div>
    ${takeAway(page, "Ledger", () => csv(state, sides, lines))}
  </section>`;
}

function collect(state: State, sides: Side[]): Line[] {
  const comparison = state.result?.kind === "two" ? state.result.comparison : null;
  const lines = new Map<string, Line>();
  const ledgers = sides.flatMap((side) => (estimateOf(state, side)?.ledger.lines ?? []).map((line) => ({ side, line })));
  for (const { side, line } of ledgers) {
    const key = `${line.group} ${line.line}`;
    const held = lines.get(key) ?? begin(line);
    if (!held.how.split(", ").includes(line.how)) held.how += `, ${line.how}`;
    if (line.mass) held.mass[side] = line.mass;
    held.volume[side] = line.volume;
    lines.set(key, held);
  }
  for (const { group, line, mass, volume } of comparison?.ledger ?? []) {
    const held = lines.get(`${group} ${line}`);
    if (held) Object.assign(held, { massChange: mass?.change ?? null, volumeChange: volume?.change ?? null });
  }
  // A line that only the second cell has joins its group.
  const order = [...new Set([...lines.values()].map(({ group }) => group))];
  return [...lines.values()].sort((a, b) => order.indexOf(a.group) - order.indexOf(b.group));
}

const begin = ({ group, line, how }: LedgerLine): Line => ({ group, line, how, mass: {}, volume: {}, massChange: null, volumeChange: null });

const shown = (figure: Figure | null | undefined): string => (figure ? bare(figure) : "–");

const figureAt = (line: Line, kind: "mass" | "volume", of: Side | "change"): Figure | null | undefined => (of === "change" ? line[`${kind}Change`] : line[kind][of]);

const cells = (columns: readonly (Side | "change")[], line: Line): TemplateResult[] =>
  (["mass", "volume"] as const).flatMap((kind) => columns.map((of) => html`<td class="number">${shown(figureAt(line, kind, of))}</td>`));

/** A head that sorts: upwards, downwards, and back to the ledger's own order. */
function sortable(page: Page, by: By, label: TemplateResult | string): TemplateResult {
  const { sort } = page.state.shown;
  const mine = sort?.by === by ? sort : null;
  const next = mine ? (mine.down ? { by, down: false } : null) : { by, down: true };
  return html`<th scope="col" aria-sort=${mine ? (mine.down ? "descending" : "ascending") : "none"}>
    <button type="button" class="sort" @click=${() => page.show({ sort: next })}>${label}<span aria-hidden="true">${mine ? (mine.down ? " ▾" : " ▴") : ""}</span></button></th>`;
}

function sorted(lines: Line[], sort: { by: string; down: boolean } | null): Line[] {
  if (!sort) return lines;
  const [kind = "", of] = sort.by.split(" ");
  const key = (line: Line): string | number =>
    kind === "mass" || kind === "volume" ? (figureAt(line, kind, of as Side | "change")?.value ?? -Infinity) : line[kind as "group" | "line" | "how"];
  const way = sort.down ? -1 : 1;
  return lines.toSorted((a, b) => {
    const [one, two] = [key(a), key(b)];
    return typeof one === "number" && typeof two === "number" ? way * (one - two || 0) : -way * String(one).localeCompare(String(two));
  });
}

/** mm³: a hundredth of a millionth of the smallest line. */
const ROUNDING = 1e-6;

function closing(state: State, side: Side): TemplateResult | typeof nothing {
  const ledgers = estimateOf(state, side)?.ledger;
  if (!ledgers) return nothing;
  return html`<br />${cellName(state, side)}: the volumes add up to the outside of the can${Math.abs(ledgers.volume_closure.value) < ROUNDING ? ", but for the rounding of numbers" : ` within ${ledgers.volume_closure.text}`}${ledgers.mass_residual
      ? html`; computed less weighed mass is ${unbroken(ledgers.mass_residual.text)}`
      : nothing}.`;
}

function csv(state: State, sides: Side[], lines: Line[]): Datum[][] {
  const heads = sides.flatMap((side) => ["mass", "mass u", "volume", "volume u"].map((kind) => `${nameOf(state, side)}: ${kind}, ${kind.startsWith("mass") ? "g" : "cm³"}`));
  return [
    ["group", "line", "how", ...heads],
    ...lines.map((line): Datum[] => [
      line.group, line.line, line.how,
      ...sides.flatMap((side) => [line.mass[side]?.value ?? null, line.mass[side]?.u ?? null, line.volume[side]?.value ?? null, line.volume[side]?.u ?? null]),
    ]),
  ];
}
