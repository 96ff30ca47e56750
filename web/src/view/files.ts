/** Cells in and out: files, drop, link, print; one cell or two. */
import { html, nothing, type TemplateResult } from "../template";
import { copyText, fileName, saveText } from "../draw/save";
import type { Side } from "../entry";
import { addressOf } from "../link";
import type { ReportQuestion } from "../model/contract";
import type { Page } from "../page";
import { sheetOf } from "../state";
import { isOld, work } from "./study";
import { cellName, nameOf } from "./words";

export function files(page: Page): TemplateResult {
  const { second } = page.state;
  const copy = async (): Promise<void> => {
    const address = await addressOf(page.state);
    history.replaceState(null, "", address);
    page.say((await copyText(address)) ? "Link copied: it holds both sheets." : "The browser did not let the page copy; the link stands in its address line.");
  };
  return html`<section id="files" aria-label="Files, link, report">
    <div class="cells">${one(page, "first")}${second ? one(page, "second") : one(page, "second", true)}</div>
    <div class="buttons">
      ${second
        ? html`<button type="button" data-do="swap" @click=${() => page.swap()}>swap the cells</button><button type="button" data-do="alone" @click=${() => page.alone()}>first cell alone</button>`
        : html`<button type="button" data-do="copy-cell" @click=${() => page.copy()}>compare with a changed copy</button>`}
      <button type="button" data-do="copy-link" @click=${copy}>copy link</button>
      <button type="button" data-do="print" @click=${() => print()}>print</button>
    </div>
    ${report(page)}
  </section>`;
}

/** Question, answer and all that it rests on as one file, with the claim and the readings where they stand on the page. */
function report(page: Page): TemplateResult {
  const { first, second, claim, bench, studies } = page.state;
  const { readings, instruments } = bench;
  const asked: ReportQuestion = {
    first,
    ...(second && { second }),
    ...(claim.trim() && { claim }),
    ...(readings.trim() && { readings }),
    ...(readings.trim() && instruments.trim() && { instruments }),
    date: new Date().toISOString().slice(0, 10),
  };
  const made = studies.report.answer;
  const save = (): void => {
    if (made) saveText(fileName(`report ${first.cell} ${second?.cell ?? ""}`, "html"), "text/html", made.html);
  };
  return html`${work(page, { kind: "report", name: "the report", asked, quick: false, button: "Write a report" })}
    ${made && !isOld(page, "report", asked) ? html`<button type="button" data-do="report" @click=${save}>save the report, one HTML file</button>` : nothing}`;
}

function one(page: Page, side: Side, empty = false): TemplateResult {
  const take = (list: FileList | null | undefined): void => {
    const file = list?.[0];
    if (file) void page.file(side, file);
  };
  const over = (event: DragEvent): void => {
    event.preventDefault();
    (event.currentTarget as Element).classList.add("over");
  };
  const leave = (event: DragEvent): void => (event.currentTarget as Element).classList.remove("over");
  const drop = (event: DragEvent): void => {
    event.preventDefault();
    leave(event);
    take(event.dataTransfer?.files);
  };
  const pick = (event: Event): void => {
    const input = event.currentTarget as HTMLInputElement;
    take(input.files);
    input.value = "";
  };
  const save = (): void => {
    const sheet = sheetOf(page.state, side);
    if (sheet) saveText(fileName(sheet.cell ?? "cell", "json"), "application/json", `${JSON.stringify(sheet, null, 2)}\n`);
  };
  return html`<div class="cell" data-drop=${side} @dragover=${over} @dragleave=${leave} @drop=${drop}>
    <p>${empty ? html`<span class="second">no second cell</span>` : cellName(page.state, side)}</p>
    <label class="button">load a sheet<span class="unseen"> as the ${side} cell</span><input type="file" accept=".json,application/json" data-file=${side} @change=${pick} /></label>
    ${empty ? nothing : html`<button type="button" data-save=${side} aria-label="save its sheet: ${nameOf(page.state, side)}" @click=${save}>save its sheet</button>`}
    <small>or drop a file here</small>
  </div>`;
}

/** Words about files and links, until they are closed. */
