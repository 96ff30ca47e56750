/** Readings in a grid: a quantity is picked by its name or by the sheet's own label, its unit stands beside it. The text behind it stays the one source. */
import { html, type TemplateResult } from "../template";
import { wordsFor } from "../catalogue";
import { cellsOf, textOfCells } from "../csv";
import { mixOf, partsOf } from "../entry";
import type { Readable } from "../model/contract";
import type { Page } from "../page";
import { sheetOf } from "../state";

const HEADS = ["specimen", "quantity", "state", "at", "value", "unit", "uncertainty", "instrument"] as const;
/** Words that a state is made of, as a bench puts them together most often; any others may be typed. */
const STATES = ["as built", "after formation, discharged, washed, dried", "after formation, discharged, dried", "after formation, discharged, wet", "after formation, charged, washed, dried", "after formation, before opening"];
/** Lists that a cell is picked from. */
const LISTS: Partial<Record<(typeof HEADS)[number], string>> = { quantity: "readable", state: "states" };
/** Rows of a long sheet that are shown; the text holds all. */
const MOST_ROWS = 150;

interface Choice {
  /** As a bench sheet writes it. */
  name: string;
  unit: string;
  /** The label that the sheet has for it. */
  label: string;
}

/** All that can be read off this cell: of its parts and materials too. */
function choices(page: Page): Choice[] {
  const sheet = sheetOf(page.state, page.state.bench.side) ?? page.state.first;
  const label = ({ input }: Readable): string => (input ? wordsFor(input.replace("parts[]", "parts[0]")).label : "");
  return page.state.readable.flatMap((one): Choice[] => {
    const [, group, what = ""] = /^(parts|materials)\[\]\.(.+)$/.exec(one.key) ?? [];
    if (!group) return [{ name: one.key, unit: one.unit, label: label(one) }];
    const names = group === "parts" ? partsOf(sheet).map(({ name }) => name) : mixOf(sheet, "cathode").slice(0, 2).map(({ material }) => material);
    return names.map((name) => ({ name: group === "parts" ? `${what.replaceAll("_", " ")} of ${name}` : `materials[${name}].${what}`, unit: one.unit, label: what.replaceAll(/[._]/g, " ") }));
  });
}

export function grid(page: Page): TemplateResult {
  const { bench } = page.state;
  const [written = [], ...lines] = cellsOf(bench.readings);
  const heads = written.length > 0 ? written.map((one) => one.trim().toLowerCase()) : [...HEADS];
  const all = choices(page);
  const column = (name: string): number => heads.indexOf(name);
  const put = (line: number, changes: Partial<Record<string, string>>): void => {
    const names = [...heads, ...Object.keys(changes).filter((name) => !heads.includes(name))];
    const rows = lines.map((row) => [...row]);
    while (rows.length <= line) rows.push(names.map(() => ""));
    const row = rows[line] ?? [];
    for (const [name, text] of Object.entries(changes)) row[names.indexOf(name)] = text ?? "";
    const filled = rows.map((one) => names.map((_, i) => one[i] ?? "")).filter((one) => one.some((cell) => cell.trim() !== ""));
    page.set({ bench: { ...bench, readings: filled.length > 0 ? textOfCells([names, ...filled]) : "" } }, "a reading", `grid.${line}.${Object.keys(changes)[0]}`);
  };
  const pick = (line: number) => (event: Event): void => {
    const typed = (event.currentTarget as HTMLInputElement).value.trim();
    const same = (one: string): boolean => one.toLowerCase() === typed.toLowerCase();
    const found = all.find(({ name }) => same(name)) ?? all.find(({ label }) => same(label));
    put(line, { quantity: found?.name ?? typed, ...(found && !lines[line]?.[column("unit")] && { unit: found.unit }) });
  };
  const cell = (line: number, name: (typeof HEADS)[number]): TemplateResult => html`<td><input type="text" aria-label="${name}, reading ${line + 1}" .value=${lines[line]?.[column(name)] ?? ""} list=${LISTS[name] ?? ""}
    autocomplete="off" spellcheck="false" @change=${name === "quantity" ? pick(line) : (event: Event) => put(line, { [name]: (event.currentTarget as HTMLInputElement).value.trim() })} /></td>`;
  const shown = Math.min(lines.length + 1, MOST_ROWS);
  return html`<datalist id="readable">${all.map(({ name, label, unit }) => html`<option value=${name}>${label && label !== name ? `${label}, ` : ""}${unit}</option>`)}</datalist>
    <datalist id="states">${STATES.map((state) => html`<option value=${state}></option>`)}</datalist>
    <div class="scroll tall" tabindex="0" role="region" aria-label="Grid of readings"><table class="csv-grid">
      <caption class="unseen">Readings, one a line; the last line is for a new one</caption>
      <thead><tr>${HEADS.map((name) => html`<th scope="col">${name}</th>`)}</tr></thead>
      <tbody>${Array.from({ length: shown }, (_, line) => html`<tr>${HEADS.map((name) => cell(line, name))}</tr>`)}</tbody>
    </table></div>
    ${lines.length >= MOST_ROWS ? html`<p class="note">The first ${MOST_ROWS} of ${lines.length} readings; the text holds all.</p>` : ""}`;
}
