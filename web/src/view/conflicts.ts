/** Entries that do not go together: said once, with the ways out as buttons. */
import { html, nothing, type TemplateResult } from "../template";
import { read, textOf, type Side } from "../entry";
import type { Problem, Sheet } from "../model/contract";
import type { Page } from "../page";
import { placeOf, sheetOf, sidesOf } from "../state";
import { cellName } from "./words";

/** Entries that can be handed back to the model, so that they follow the others: path, and what happens then. */
const FOLLOW: [path: string, words: string][] = [
  ["cathode.width", "let the coated width follow the height"],
  ["winding.cathode_length", "let the electrode lengths follow the can"],
  ["winding.anode_length", "let the electrode lengths follow the can"],
  ["can.mass", "let the mass of the can follow"],
];

/** Where the model names a value that would do, one press takes it. */
function named(page: Page): TemplateResult | typeof nothing {
  const ways = page.state.problems.flatMap((problem) => {
    const [, limit] = /up to ([\d.]+ V)/.exec(problem.expected) ?? [];
    const { side, path } = placeOf(problem);
    return limit && path === "voltage.charge_cut_off" ? [{ side, path, limit }] : [];
  });
  if (ways.length === 0) return nothing;
  return html`<div class="ways" role="group" aria-label="Ways out">${ways.map(
    ({ side, path, limit }) => html`<p>This cathode of ${cellName(page.state, side)} is charged to less: <button type="button" data-do="follow" @click=${() => page.edit(side, [{ set: path, to: { value: limit, from: "assumed" } }], "the charge cut-off voltage")}>charge to ${limit}</button></p>`,
  )}</div>`;
}

export function conflicts(page: Page): TemplateResult | typeof nothing {
  const { state } = page;
  const sides = sidesOf(state).filter((side) => isBent(page, side));
  if (sides.length === 0) return named(page);
  const ways = new Map(FOLLOW.filter(([path]) => sides.some((side) => textOf(read(sheetOf(state, side) as Sheet, path)) !== "")).map(([path, words]) => [words, path]));
  const changed = sides.filter((side) => state.result?.asked[side]);
  const follow = (words: string): void => {
    const edits = FOLLOW.filter(([, one]) => one === words).map(([path]) => ({ clear: path }));
    page.change({ edits: Object.fromEntries(sides.map((side) => [side, edits])), what: words });
  };
  const back = (): void => page.goBack(Object.fromEntries(changed.map((side) => [side, state.result?.asked[side]])), "going back to the last consistent entries");
  return html`<div class="ways" role="group" aria-label="Ways out">
    <p>These entries do not go together${sides.length > 1 ? " in either cell" : html` in ${cellName(state, sides[0] ?? "first")}`}.</p>
    <div class="buttons">${[...ways.keys()].map((words) => html`<button type="button" data-do="follow" @click=${() => follow(words)}>${words}</button>`)}
      ${changed.length > 0 ? html`<button type="button" @click=${back}>back to the last entries that were consistent</button>` : nothing}</div>
  </div>`;
}

/** Whether every entry of the cell can be read and still the cell does not hold together. */
function isBent(page: Page, side: Side): boolean {
  const { problems } = page.state;
  const of = problems.filter((one) => placeOf(one).side === side);
  const sheet = sheetOf(page.state, side);
  if (of.length === 0 || !sheet) return false;
  // What is wrong with the text of one entry is told and mended there.
  const isText = (one: Problem): boolean => {
    const text = textOf(read(sheet, placeOf(one).path));
    return text !== "" && one.found.startsWith(`"${text}"`);
  };
  return !of.some(isText) && FOLLOW.some(([path]) => textOf(read(sheet, path)) !== "");
}
