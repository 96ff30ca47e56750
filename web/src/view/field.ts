/** One entry of a sheet: the quantity as it is written, where it comes from, a slider along what is ordinary, and what is wrong with it. */
import { html, live, nothing, type TemplateResult } from "../template";
import { ESSENTIAL } from "../catalogue";
import { comingFrom, written as writing } from "../edits";
import { isName } from "../entry";
import type { Origin } from "../model/contract";
import { movedTo, stepFor, withUnitOf, written } from "../number";
import type { Page } from "../page";
import type { Field } from "../rows";
import { sheetOf } from "../state";
import { nameOf } from "./words";

const ORIGINS: Exclude<Origin, "default">[] = ["measured", "stated", "assumed"];

/** `slides` where the slider is there at all times, and not only while the field is used. */
export function field(page: Page, entered: Field, { list, slides = false }: { list?: string | undefined; slides?: boolean } = {}): TemplateResult {
  const place = `${entered.side}.${entered.path}`;
  const { draft, waiting } = page.state;
  const mine = draft?.id === place ? draft.text : null;
  const value = mine ?? waiting[place] ?? entered.text;
  const what = `${entered.label}, ${nameOf(page.state, entered.side)}`;
  const wrong = entered.problems.length > 0;
  // Names of materials may hold spaces, which would part one id into several.
  const problem = `problem-${place.replaceAll(/[^\w-]+/g, "-")}`;
  const note = [entered.remark, entered.source && `default from: ${entered.source}`].filter(Boolean).join("; ");

  const put = (text: string): void => {
    const sheet = sheetOf(page.state, entered.side);
    if (!sheet) return;
    const full = withUnitOf(text, entered.unit);
    page.change({ edits: { [entered.side]: writing(sheet, entered.path, full) }, what: `a change of ${what}`, key: place, typed: { place, text: full } });
  };
  const type = (event: Event): void => {
    const text = (event.currentTarget as HTMLInputElement).value;
    // What is typed stays in its field as it was typed; the sheet has it with its unit.
    page.state.draft = { id: place, text };
    put(text);
  };
  // A default is put into its field to be changed; it becomes the user's with the first keystroke.
  const enter = (event: Event): void => {
    // "the rest" of a mix is nothing to start typing from.
    if (entered.text || !/\d/.test(entered.standard)) return;
    const input = event.currentTarget as HTMLInputElement;
    page.state.draft = { id: place, text: entered.standard };
    input.value = entered.standard;
    input.select();
  };
  const leave = (): void => {
    page.rest();
    if (page.state.draft?.id !== place) return;
    page.state.draft = null;
    page.draw();
  };
  return html`<div class="field">
    <input type="text" data-place=${place} aria-label=${what} .value=${live(value)} placeholder=${entered.standard || (entered.follows ? `= ${entered.follows}` : "–")} list=${list ?? nothing} title=${note} dir="auto"
      class=${entered.text ? "" : "standard"} autocomplete="off" spellcheck="false" aria-invalid=${wrong ? "true" : "false"} aria-describedby=${wrong ? problem : nothing}
      @input=${type} @focus=${enter} @blur=${leave} />
    ${(entered.text || entered.standard) && !isName(entered.path) ? origin(page, entered, what) : nothing}
    ${slides ? slider(page, entered, value, what, put) : nothing}
    ${entered.plausibility && !wrong ? html`<p class="implausible">${entered.plausibility.replace(`${entered.path}: `, "")}</p>` : nothing}
    ${wrong ? html`<p class="problem" id=${problem}>${entered.problems.join(" ")}</p>` : nothing}
  </div>`;
}

/** Along what is ordinary for the entry, and as far as it stands now. */
function slider(page: Page, entered: Field, value: string, what: string, put: (text: string) => void): TemplateResult | typeof nothing {
  const text = value || entered.standard || entered.follows;
  const now = written(text);
  const range = ESSENTIAL.find(({ path }) => path === entered.path);
  if (!now || !range || (now.unit !== range.unit && now.unit !== "")) return nothing;
  const low = Math.min(range.low, now.value);
  const high = Math.max(range.high, now.value);
  const step = stepFor(high - low, 400);
  const slide = (event: Event): void => {
    page.state.draft = null;
    put(movedTo(text, Number((event.currentTarget as HTMLInputElement).value), step));
  };
  return html`<input type="range" class=${entered.side} data-slide="${entered.side}.${entered.path}" aria-label="slide ${what}" aria-valuetext=${text} min=${low} max=${high} step=${step} .value=${live(String(now.value))}
    @input=${slide} @change=${() => page.rest()} />`;
}

/** Where the entry comes from; "default" hands it back to the model. */
function origin(page: Page, entered: Field, what: string): TemplateResult {
  const mine = entered.text !== "";
  const now = mine ? (entered.origin ?? "") : "default";
  const choose = (event: Event): void => {
    const from = (event.currentTarget as HTMLSelectElement).value as Origin | "";
    if (from === "") return;
    const sheet = sheetOf(page.state, entered.side);
    if (sheet) page.edit(entered.side, comingFrom(sheet, entered.path, entered.standard, from), `where ${what} comes from`);
  };
  return html`<select class="origin" data-origin="${entered.side}.${entered.path}" aria-label="where it comes from: ${what}" .value=${live(now)} @change=${choose}>
    ${now === "" ? html`<option value="" selected>as written</option>` : nothing}
    ${ORIGINS.map((one) => html`<option value=${one} ?selected=${one === now}>${one}</option>`)}
    <option value="default" ?selected=${now === "default"}>default</option>
  </select>`;
}
