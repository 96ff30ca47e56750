/** Readings held against the design sheet: what they say, which are suspect, what they make of the sheet, what to read next. */
import { html, nothing, svg, type TemplateResult } from "../template";
import { axisLeft } from "../draw/axis";
import { scale } from "../draw/scale";
import type { NextAnswer, NextQuestion, ReconcileQuestion, Reconciliation } from "../model/contract";
import { BENCH, DEMOS } from "../demo";
import { wordsOf } from "../complaints";
import { LONGEST_IN_LINK } from "../link";
import type { Page } from "../page";
import { textFromFile } from "../read";
import { NO_BENCH, sheetOf, sidesOf, workOn, type BenchSheet } from "../state";
import { dataTable, picture } from "./frame";
import { grid } from "./grid";
import { plot, spoken } from "./plot";
import { isOld, work } from "./study";
import { choice, heard, list, more } from "./table";
import { cellName, inSection, nameOf, said } from "./words";

const LOSSES = [
  ["normal", "least squares, weights from the uncertainties"],
  ["huber", "Huber"],
  ["student", "Student’s t"],
] as const;

const TARGETS = [
  ["volumetric", "volumetric energy density"],
  ["gravimetric", "specific energy"],
  ["energy", "energy"],
  ["capacity", "capacity"],
  ["mass", "mass"],
] as const;

function reconcileQuestion(page: Page): ReconcileQuestion | null {
  const { bench } = page.state;
  const sheet = sheetOf(page.state, bench.side);
  if (!sheet || bench.readings.trim() === "") return null;
  const populations = bench.populations.split(",").map((one) => one.trim()).filter(Boolean);
  return { sheet, readings: bench.readings, ...(bench.instruments && { instruments: bench.instruments }), loss: bench.loss, ...(populations.length > 0 && { populations }) };
}

function nextQuestion(page: Page): NextQuestion | null {
  const { bench, first, second } = page.state;
  const { instruments } = bench;
  const more = instruments ? { instruments } : {};
  if (bench.between && second) return { sheet: first, second, figure: bench.target, ...more };
  const sheet = sheetOf(page.state, bench.side);
  return sheet && { sheet, figure: bench.target, ...(bench.readings.trim() && { readings: bench.readings }), ...more };
}

export function bench(page: Page): TemplateResult {
  const { state } = page;
  const asked = reconcileQuestion(page);
  const { answer } = state.studies.reconcile;
  const set = (to: Partial<BenchSheet>): void => page.set({ bench: { ...page.state.bench, ...to } }, "the readings", "bench");
  return html`<section id="bench">
    <p class="note">A table with the columns cell, specimen, quantity, state, at, value, unit, uncertainty, instrument, fit, remark and date, as a spreadsheet saves it. State says what was done to the cell before: as built, or after formation, discharged, washed, dried. At holds the conditions of an electrical reading: 10 s, 50 %, 25 °C.
      <button type="button" class="link" @click=${() => demoBench(page)}>Fill in the invented bench sheet, with its cell.</button></p>
    <p class="buttons unprinted"><button type="button" data-do="grid" aria-pressed=${state.shown.grid ? "true" : "false"} @click=${() => void showGrid(page)}>${state.shown.grid ? "as text" : "type into a grid"}</button>
      <button type="button" data-do="template" ?disabled=${state.bench.readings.trim() !== ""} title=${state.bench.readings.trim() === "" ? "" : "there are readings already"} @click=${() => void fillTemplate(page)}>fill in rows for this cell</button></p>
    ${state.shown.grid ? grid(page) : nothing}
    <div class=${state.shown.grid ? "" : "pair"}>
      ${state.shown.grid ? nothing : csvField(page, "readings", "bench sheet, CSV", state.bench.readings)}
      ${csvField(page, "instruments", "instrument uncertainties, CSV (may stay empty)", state.bench.instruments)}
    </div>
    ${state.bench.readings.length + state.bench.instruments.length > LONGEST_IN_LINK ? html`<p class="note">These readings are too long for a link: they are kept in this browser.</p>` : nothing}
    <p class="controls">
      ${state.second ? choice("bench-side", "against the sheet of", sidesOf(state).map((side) => [side, nameOf(state, side)]), state.bench.side, (side) => set({ side: side as BenchSheet["side"] })) : nothing}
      ${choice("bench-loss", "loss function", LOSSES, state.bench.loss, (loss) => set({ loss: loss as BenchSheet["loss"] }))}
      <label for="bench-populations">two variants (mixture) possible in</label><input id="bench-populations" size="22" .value=${state.bench.populations} placeholder="names of quantities" @change=${heard((populations) => set({ populations }))} />
    </p>
    ${asked ? work(page, { kind: "reconcile", name: "the fit", asked, quick: true, insight: "readings" }) : nothing}
    ${asked && answer && state.studies.reconcile.problems.length === 0 ? html`<div class=${isOld(page, "reconcile", asked) ? "old" : ""}>${reconciled(page, answer)}</div>` : nothing}
    ${next(page, set)}
  </section>`;
}

/** A field to type or paste into, to drop a file on, or to load one. */
function csvField(page: Page, name: "readings" | "instruments", label: string, text: string): TemplateResult {
  const take = async (list: FileList | null | undefined): Promise<void> => {
    const file = list?.[0];
    if (file) await benchFile(page, name, file);
  };
  return html`<div class="csv" @dragover=${(event: DragEvent) => event.preventDefault()} @drop=${(event: DragEvent) => {
    event.preventDefault();
    void take(event.dataTransfer?.files);
  }}>
    <label for="bench-${name}">${label}</label>
    <textarea id="bench-${name}" rows="6" spellcheck="false" wrap="off" .value=${text} @blur=${() => page.rest()} @input=${heard((typed) => page.set({ bench: { ...page.state.bench, [name]: typed } }, "the readings", `bench.${name}`))}></textarea>
    <label class="button">load a file<span class="unseen">: ${label}</span><input type="file" accept=".csv,text/csv,text/plain" @change=${(event: Event) => void take((event.target as HTMLInputElement).files)} /></label>
  </div>`;
}

const textOf = ({ text }: { text: string }): string => text;

function reconciled(page: Page, result: Reconciliation): TemplateResult {
  const { side } = page.state.bench;
  return html`<p class="finding">${said(result.answer)}</p>
    ${result.problems.length > 0 ? list(result.problems.map(textOf), "problems") : nothing}
    ${result.outliers.length > 0 ? html`<h3>Suspect readings (outliers)</h3>${list(result.outliers.map(textOf))}<p class="note">${result.correction}</p>` : nothing}
    ${result.furthest.length > 0 ? html`<h3>Readings with the largest residuals</h3>${list(result.furthest.map(textOf))}` : nothing}
    ${picture(page, {
      id: "bench-picture",
      title: "Residual of each reading",
      drawing: draw(page, result),
      caption: html`Reading less what the reconciled design predicts, over the standard deviation of that difference. Between the two lines lie 95 of 100 readings whose uncertainties are right; an open mark is a
        suspect reading. The fit after ${result.fit.steps} steps: ${result.fit.ending}. ${result.fit.reduced === null ? nothing : html`χ² per degree of freedom ${result.fit.reduced.toPrecision(3)}${result.fit.probability === null ? nothing : html`, probability ${result.fit.probability.toPrecision(2)}`}.`}`,
      behind: () => ({
        heads: ["line", "specimen", "quantity", "reading", "u", "unit", "predicted", "normalised residual", "after the fit, z", "leverage", "fate", "why", "remark"],
        rows: result.readings.map((one) => [one.line, one.specimen, one.label, one.reading.value, one.reading.u ?? null, one.reading.unit, one.predicted?.value ?? null, one.residual ?? null, one.z ?? null, one.counted ?? null, one.fate, one.why ?? null, one.remark ?? null]),
      }),
    })}
    <div class="buttons"><button type="button" data-do="accept" @click=${() => page.accept(side, result.sheet)}>take the reconciled sheet for ${cellName(page.state, side)}</button></div>
    ${more("The cell after the fit", dataTable(page, "Figures before and after", { heads: ["figure", "by the sheet", "by the sheet and its readings"], rows: result.figures.map(({ label, before, after }) => [label, before.text, after.text]) }), true)}
    ${more("Every entry before and after", dataTable(page, "Entries before and after", {
        heads: ["entry", "written", "before", "after", "moved by its uncertainty", "variance removed", "note"],
        rows: result.parameters.map(({ section, label, text, before, after, moved, read, determined, stopped }) => [
          inSection({ section, label }), text, before.text, after.text, moved, read, [determined ? "" : "not determined by the readings", stopped ? `stopped at its ${stopped} bound` : ""].filter(Boolean).join("; "),
        ]),
      }))}
    ${result.scatter.length > 0 ? more("Scatter between specimens", list(result.scatter.map(({ label, text }) => `${label}: ${text}`))) : nothing}
    ${result.populations.length > 0 ? html`<h3>Two variants (mixture)</h3>${list(result.populations.map(textOf))}` : nothing}
    ${result.instruments.length > 0 ? more("Shared errors of instruments", dataTable(page, "Instruments", { heads: ["instrument", "readings", "zero", "scale"], rows: result.instruments.map(({ instrument, readings, zero, scale }) => [instrument, readings, zero?.text ?? null, scale?.text ?? null]) })) : nothing}
    ${result.undetermined.length > 0 ? more(`Entries that the readings do not determine: ${result.undetermined.length}`, html`<p class="note">${result.undetermined.join("; ")}.</p>`) : nothing}
    ${list(result.remarks, "note")}
    <p class="note">Opening a cell is hazardous, and work for trained people: the <a href="#cautions" @click=${toCautions}>cautions</a> stand at the end of this page.</p>`;
}

/** A place on the page must not take the state's place in the address. */
function toCautions(event: Event): void {
  event.preventDefault();
  document.querySelector("#cautions")?.scrollIntoView();
}

function draw(page: Page, result: Reconciliation): TemplateResult {
  const { narrow } = page.state.shown;
  const used = result.readings.filter(({ z }) => z !== undefined);
  const [width, height] = narrow ? [340, 260] : [700, 300];
  const edge = { top: 24, right: 12, below: 20, left: 44 };
  const far = Math.max(3, ...used.map(({ z = 0 }) => Math.abs(z)));
  const y = scale(-far, far, height - edge.below, edge.top, 6);
  const step = (width - edge.left - edge.right) / Math.max(1, used.length);
  const drawing = svg`${axisLeft(y, edge.left, width - edge.right, "")}
    <path d=${`M${edge.left} ${y(1.96)}H${width - edge.right}M${edge.left} ${y(-1.96)}H${width - edge.right}`} stroke="var(--mark)" stroke-dasharray="6 4" fill="none" />
    ${used.map(({ z = 0, outlier, label, specimen }, i) => {
      const x = edge.left + (i + 0.5) * step;
      return svg`<g><path d=${`M${x} ${y(0)}V${y(z)}`} stroke="var(--line)" fill="none" /><circle cx=${x} cy=${y(z)} r=${outlier ? 6 : 3.4} fill=${outlier ? "var(--paper)" : "var(--second)"} stroke=${outlier ? "var(--warn)" : "none"} stroke-width="2.4" />
        ${outlier ? svg`<text class="haloed" x=${Math.min(x + 9, width - 120)} y=${y(z) + 4}>${label}${specimen ? `, ${specimen}` : ""}</text>` : nothing}</g>`;
    })}`;
  return plot(page, { id: "bench-picture", width, height, drawing, steps: used.length, at: (i) => {
    const { z = 0, label = "", specimen = "", line, reading, predicted } = used[i] ?? {};
    return { marks: [{ x: edge.left + (i + 0.5) * step, y: y(z), colour: "var(--second)" }], words: `${label}${specimen ? `, specimen ${specimen}` : ""} (line ${line}): ${reading?.text}${predicted ? `, predicted ${predicted.text}` : ""}, normalised residual ${spoken(z, "", 2)}` };
  } });
}

function next(page: Page, set: (to: Partial<BenchSheet>) => void): TemplateResult {
  const { state } = page;
  const asked = nextQuestion(page);
  const { answer } = state.studies.next;
  return html`<h3>Most informative next measurement</h3>
    <p class="controls">${choice("next-target", "to know", TARGETS, state.bench.target, (target) => set({ target }))}
      ${state.second ? html`<label class="check"><input type="checkbox" .checked=${state.bench.between} @change=${() => set({ between: !state.bench.between })} /> its difference between the two cells</label>` : nothing}</p>
    ${asked ? work(page, { kind: "next", name: "the ranking", asked, quick: true, insight: "readings" }) : nothing}
    ${answer ? ranked(page, answer) : nothing}`;
}

function ranked(page: Page, result: NextAnswer): TemplateResult {
  const rows = (list: NextAnswer["alone"]) => list.map(({ cell, label, instrument, instrument_u, removed, after }) => [result.cells.length > 1 ? `${label} (${cell})` : label, instrument, instrument_u.text, `${(100 * removed).toFixed(1)} %`, after.text]);
  const heads = ["reading", "instrument", "instrument uncertainty", "variance removed", "remaining uncertainty"];
  return html`<p class="finding">${said(result.answer)}</p>
    ${dataTable(page, "Readings one after another", { heads, rows: rows(result.in_turn) })}
    ${more("Each reading alone", dataTable(page, "Readings, each alone", { heads, rows: rows(result.alone) }))}
    ${list(result.remarks, "note")}`;
}

/** What can be read is asked for once. */
async function showGrid(page: Page): Promise<void> {
  page.show({ grid: !page.state.shown.grid });
  if (page.state.readable.length > 0) return;
  const answer = await page.full.ask({ readable: {} });
  if (answer && "ok" in answer) page.state.readable = answer.ok;
  page.draw();
}

/** Rows for what can be read off this cell, what tells most of its energy density first; what is typed meanwhile stays. */
async function fillTemplate(page: Page): Promise<void> {
  const sheet = sheetOf(page.state, page.state.bench.side);
  const answer = sheet && (await page.full.ask({ template: sheet }));
  if (!answer || page.state.bench.readings.trim() !== "") return;
  if ("ok" in answer) page.set({ bench: { ...page.state.bench, readings: answer.ok } }, "rows for readings");
  else page.tell(answer.problems.map(({ text }) => text).join("; "));
}

/** The invented readings belong to an invented cell, and are held against no other. */
function demoBench(page: Page): void {
  const cells = DEMOS[0]?.cells();
  if (cells) page.replace(() => ({ ...workOn({ first: cells.first, second: null }), bench: { ...NO_BENCH, ...BENCH } }), "the invented readings");
  page.open("readings");
}

async function benchFile(page: Page, name: "readings" | "instruments", file: File): Promise<void> {
  try {
    const text = await textFromFile(file);
    page.set({ bench: { ...page.state.bench, [name]: text } }, `loading ${file.name}`);
  } catch (error) {
    page.tell(`“${file.name}” ${wordsOf(error)}. Nothing was changed.`);
  }
}
