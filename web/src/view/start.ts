/** The head of the page: its name, the four questions, undo and redo, and a start with four fields. */
import { html, nothing, type TemplateResult } from "../template";
import { begun, DEMOS, SIZES, USUAL_START, type Start } from "../demo";
import { hosted, sized } from "../edits";
import { mixOf, textOf } from "../entry";
import type { Edit } from "../model/contract";
import type { Page } from "../page";
import { canOf, sidesFrom } from "../size";
import { workOn, type Task } from "../state";

const QUESTIONS: [task: Task, question: string, about: string][] = [
  ["part", "What does removing a part buy?", "energy density, part by part"],
  ["size", "Which size, which electrode?", "form factors, coatings, lessons"],
  ["claim", "Can this claim be true?", "declared figures, checked"],
  ["readings", "What do my readings say?", "tear-down and bench"],
];

export function start(page: Page): TemplateResult {
  const { task } = page.state.shown;
  return html`<header class="head">
    <h1>Roulade <span>what a wound cylindrical cell holds, and what each part of it costs</span></h1>
    <nav aria-label="Questions">
      <ul class="points">${QUESTIONS.map(
        ([id, question, about]) => html`<li><button type="button" data-task=${id} aria-pressed=${task === id ? "true" : "false"} @click=${() => page.choose(id)}><b>${question}</b><small>${about}</small></button></li>`,
      )}</ul>
    </nav>
  </header>`;
}

export function tools(page: Page): TemplateResult {
  const { undoes, redoes } = page;
  return html`<div class="steps" role="group" aria-label="Steps">
    <button type="button" class="plain" data-do="undo" ?disabled=${undoes === null} title=${undoes ?? ""} @click=${() => page.undo()}>undo<span class="unseen">: ${undoes ?? "nothing"}</span></button>
    <button type="button" class="plain" data-do="redo" ?disabled=${redoes === null} title=${redoes ?? ""} @click=${() => page.redo()}>redo<span class="unseen">: ${redoes ?? "nothing"}</span></button>
    <span class="said" role="status">${page.state.said}</span>
  </div>`;
}

/** Words about files and links, until they are closed. */
export function messages(page: Page): TemplateResult {
  return html`<div id="messages" role="alert">${page.state.messages.map(
    (message) => html`<p class="message">${message} <button type="button" class="plain" @click=${() => page.close(message)}>close</button></p>`,
  )}</div>`;
}

/** The four fields, as long as there is one cell; they are entries of its sheet, and the figure that is known of it. */
export function begin(page: Page): TemplateResult | typeof nothing {
  const { first, second, known } = page.state;
  // What was measured goes before what its name says.
  const named = sidesFrom(first.can.size ?? "");
  const now: Start = {
    size: `${(textOf(first.can.diameter) || named?.diameter || "").replace(/ ?mm$/, "")} × ${textOf(first.can.height) || named?.height || ""}`,
    cathode: mixOf(first, "cathode")[0]?.material ?? "",
    anode: mixOf(first, "anode")[0]?.material ?? "",
  };
  const value = (event: Event): string => (event.currentTarget as HTMLInputElement).value.trim();
  const size = (event: Event): void => {
    const typed = value(event);
    const can = canOf(typed);
    if (!can) return page.tell(`“${typed}” is not a size: write diameter × height, such as 46 × 80 mm.`);
    page.edit("first", [...renamed(page, { ...now, size: can.size ? `${can.size} mm` : typed }), ...sized(typed)], "the size");
  };
  const electrode = (side: "cathode" | "anode") => (event: Event): void => {
    const material = value(event);
    if (material) page.edit("first", [...renamed(page, { ...now, [side]: material }), ...hosted(first, side, material)], `the ${side}`);
  };
  const loadable = (event: Event): void => {
    const file = (event.currentTarget as HTMLInputElement).files?.[0];
    if (file) void page.file("first", file);
  };
  const pick = (id: string, label: string, text: string, list: string[], put: (event: Event) => void): TemplateResult => html`<label for="start-${id}">${label}</label>
    <input type="text" id="start-${id}" list="start-${id}-list" .value=${text} autocomplete="off" spellcheck="false" @change=${put} @focus=${(event: Event) => (event.currentTarget as HTMLInputElement).select()} />
    <datalist id="start-${id}-list">${list.map((one) => html`<option value=${one}></option>`)}</datalist>`;
  return html`<section id="start" aria-label="A cell to begin with">
    ${second ? nothing : html`<div class="four">
      <div>${pick("size", "size", now.size, SIZES, size)}</div>
      <div>${pick("cathode", "cathode", now.cathode, page.state.hosts.cathode, electrode("cathode"))}</div>
      <div>${pick("anode", "anode", now.anode, page.state.hosts.anode, electrode("anode"))}</div>
      <div>${pick("known", "one known figure", known.text, ["5.0 Ah", "18 Wh", "68 g", "270 Wh/kg", "700 Wh/L"], (event) => know(page, value(event)))}</div>
    </div>
    ${known.note ? html`<p class="note" id="known-note">${known.note}</p>` : nothing}`}
    <p class="others unprinted">
      ${page.earlier ? html`<button type="button" class="link" data-do="go-on" @click=${() => page.goOn()}>go on with <bdi>${page.earlier.work.first.cell ?? "unnamed"}</bdi></button> ` : nothing}
      <button type="button" class="link" data-do="blank" @click=${() => page.replace(() => workOn({ first: begun(USUAL_START), second: null }), "a blank sheet")}>blank sheet</button>
      <span>invented demo:</span> ${DEMOS.map(({ id, words }) => html`<button type="button" class="link" data-demo=${id} @click=${() => page.demo(id)}>${words}</button> `)}
      <label class="link">open a file<input type="file" class="unseen" accept=".json,application/json" data-start-file @change=${loadable} /></label>
    </p>
  </section>`;
}

/** The name that the start gave the cell follows what it is made of; a name of the user's own stays. */
function renamed(page: Page, now: Start): Edit[] {
  return / on .*, .*×/.test(page.state.first.cell ?? "") ? [{ set: "cell", to: `${now.cathode} on ${now.anode}, ${now.size}` }] : [];
}

/** A figure that is known of the cell: the mass is an entry, any other is a claim to be checked. */
function know(page: Page, text: string): void {
  if (!text) return page.set({ known: { text, note: "" } }, "the known figure");
  const [, , unit = ""] = /^([\d.,]+)\s*(\S+)$/.exec(text) ?? [];
  if (/^k?g$/.test(unit)) return page.change({ edits: { first: [{ set: "cell_mass", to: { value: text, from: "stated" } }] }, what: "the known mass", to: { known: { text, note: "The mass stands in the sheet as stated." } } });
  if (/^(Wh\/(L|l|kg)|Wh|m?Ah)$/.test(unit)) {
    page.set({ claim: `about ${text} of the cell`, known: { text, note: "A declared figure is checked against what else is known of the cell, under “Declared figures, checked”." } }, "the known figure");
    return page.open("claim");
  }
  page.set({ known: { text, note: `“${text}” is not understood as a figure: write a mass (g), a capacity (Ah), an energy (Wh) or an energy density (Wh/L, Wh/kg).` } }, "the known figure");
}
