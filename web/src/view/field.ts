/** One entry of the sheet: its text, where it comes from, and what is wrong with it, in words. */
import { html, nothing, type TemplateResult } from "lit-html";
import { live } from "lit-html/directives/live.js";
import { read, withOrigin, withText, write } from "../entry";
import type { Origin } from "../model/contract";
import type { Page } from "../page";
import type { Field } from "../rows";
import { nameOf } from "./words";

const ORIGINS: Exclude<Origin, "default">[] = ["measured", "stated", "assumed"];

export function field(page: Page, told: Field, list?: string): TemplateResult {
  const place = `${told.side}.${told.path}`;
  const { draft } = page.state;
  const looked = draft?.id === place ? draft.text : null;
  const value = told.text || (looked ?? "");
  const what = `${told.label}, ${nameOf(page.state, told.side)}`;
  const wrong = told.problems.length > 0;
  // Names of materials may hold spaces, which would part one id into several.
  const problem = `problem-${place.replaceAll(/[^\w-]+/g, "-")}`;
  const note = [told.remark, told.source && `default from: ${told.source}`].filter(Boolean).join("; ");

  const type = (event: Event): void => {
    const text = (event.currentTarget as HTMLInputElement).value;
    page.state.draft = text.trim() === "" ? { id: place, text } : null;
    page.edit(told.side, (sheet) => write(sheet, told.path, withText(read(sheet, told.path), text)));
  };
  // A default is put into its field to be changed; it becomes the user's with the first keystroke.
  const enter = (event: Event): void => {
    // "the rest" of a mix is nothing to start typing from.
    if (told.text || !/\d/.test(told.standard)) return;
    const input = event.currentTarget as HTMLInputElement;
    page.state.draft = { id: place, text: told.standard };
    input.value = told.standard;
    input.select();
  };
  const leave = (): void => {
    if (page.state.draft?.id !== place) return;
    page.state.draft = null;
    page.draw();
  };
  return html`<div class="field">
    <input type="text" data-place=${place} aria-label=${what} .value=${live(value)} placeholder=${told.standard || "–"} list=${list ?? nothing} title=${note}
      class=${told.text ? "" : "standard"} autocomplete="off" spellcheck="false" aria-invalid=${wrong ? "true" : "false"} aria-describedby=${wrong ? problem : nothing}
      @input=${type} @focus=${enter} @blur=${leave} />
    ${(told.text || told.standard) && !isName(told.path) ? origin(page, told, what) : nothing}
    ${wrong ? html`<p class="problem" id=${problem}>${told.problems.join(" ")}</p>` : nothing}
  </div>`;
}

/** The name of a material is chosen, not read off anything. */
export const isName = (path: string): boolean => /\.(material|ceramic)$/.test(path);

/** Where the entry comes from; "default" hands it back to the model. */
function origin(page: Page, told: Field, what: string): TemplateResult {
  const mine = told.text !== "";
  const now = mine ? (told.origin ?? "") : "default";
  const choose = (event: Event): void => {
    const from = (event.currentTarget as HTMLSelectElement).value as Origin | "";
    if (from === "") return;
    page.edit(told.side, (sheet) => {
      const entry = read(sheet, told.path);
      return write(sheet, told.path, from === "default" ? undefined : withOrigin(entry, told.text || told.standard, from));
    });
  };
  return html`<select class="origin" data-origin="${told.side}.${told.path}" aria-label="where it comes from: ${what}" .value=${live(now)} @change=${choose}>
    ${now === "" ? html`<option value="" selected>as written</option>` : nothing}
    ${ORIGINS.map((one) => html`<option value=${one} ?selected=${one === now}>${one}</option>`)}
    <option value="default" ?selected=${now === "default"}>default</option>
  </select>`;
}
