/** The answer, always in sight: a few figures, the sentence, where its uncertainty comes from. */
import { html, nothing, type TemplateResult } from "../template";
import { named, type Side } from "../entry";
import type { Change, Row, Sentence } from "../model/contract";
import type { Page } from "../page";
import { isStale } from "../state";
import { MATERIALS } from "./sheet";
import { bare, cellName, unbroken } from "./words";

export function answer(page: Page): TemplateResult {
  const { result, problems } = page.state;
  const said = result && (result.kind === "two" ? result.comparison.answer : result.first.answer);
  const stale = isStale(page.state);
  return html`<section id="answer" tabindex="-1" aria-label="The answer" aria-busy=${page.state.busy ? "true" : "false"}>
    ${stale
      ? html`<p class="stale" id="stale"><b>Stale.</b> This is the last good answer; the present entries have none:
          <button type="button" class="link" @click=${toProblem}>${problems.length === 1 ? "one entry" : `${problems.length} entries`} to mend</button>.</p>`
      : nothing}
    ${foremost(page, stale)}
    ${said
      ? html`<p class="sentence" ?data-stale=${stale}>${sentences(said)}</p>`
      : html`<p class="sentence waiting">${problems.length > 0 ? "There is no answer yet: the messages beside the entries say what is expected." : "Winding …"}</p>`}
  </section>`;
}

/** Figures that stay in sight. */
const FOREMOST = ["volumetric", "gravimetric", "capacity", "mass"];

const SHORT: Record<string, string> = { volumetric: "energy density", gravimetric: "specific energy", capacity: "capacity", mass: "mass" };

/** The foremost figures in one table, one column a cell. */
function foremost(page: Page, stale: boolean): TemplateResult | typeof nothing {
  const { result } = page.state;
  if (!result) return nothing;
  const find = <T extends { id: string }>(rows: T[]): T[] => FOREMOST.flatMap((id) => rows.find((row) => row.id === id) ?? []);
  const two = result.kind === "two";
  return html`<table class="foremost ${two ? "two" : "one"}" ?data-stale=${stale}>
    <caption class="unseen">The answer in figures${stale ? ", of the entries before" : ""}</caption>
    ${two ? html`<thead><tr><td></td><th scope="col">${cellName(page.state, "first")}</th><th scope="col">${cellName(page.state, "second")}</th><th scope="col">change</th></tr></thead>` : nothing}
    <tbody>${two
      ? find<Change>(result.comparison.figures).map(
          ({ id, first, second, change, percent }) => html`<tr data-foremost=${id}><th scope="row">${SHORT[id] ?? id} <small>${first.unit}</small></th><td>${bare(first)}</td><td>${bare(second)}</td><td class="change"><b>${bare(change)}</b>${percent ? html`<small>${percent.text.replace(/ ± \S+/, "")}</small>` : nothing}</td></tr>`,
        )
      : find<Row>(result.first.headline).map(({ id, figure }) => html`<tr data-foremost=${id}><th scope="row">${SHORT[id] ?? id}</th><td><b>${figure.text}</b></td></tr>`)}</tbody>
  </table>`;
}

/** On a narrow screen a bar that stays at the top. */
export function bar(page: Page): TemplateResult {
  const { result } = page.state;
  const figures = result
    ? FOREMOST.slice(0, 3).flatMap((id) => {
        const change = result.kind === "two" ? result.comparison.figures.find((one) => one.id === id) : undefined;
        const row = result.first.headline.find((one) => one.id === id);
        return row ? [{ id, figure: change?.second ?? row.figure, change: change?.change }] : [];
      })
    : [];
  const stale = isStale(page.state);
  return html`<aside class="bar" aria-label="The answer in short" ?data-stale=${stale}>${figures.map(
    ({ id, figure, change }) => html`<span><b>${bare(figure)}</b> ${figure.unit}${change ? html`<small>${bare(change)}</small>` : html`<small>${SHORT[id]}</small>`}</span>`,
  )}${stale ? html`<em>stale</em>` : nothing}</aside>`;
}

/** The first sentence is the answer; what follows it is set smaller. */
function sentences({ runs: parts }: Sentence): TemplateResult {
  const runs: Sentence["runs"] = [];
  for (const { text, strong } of parts) {
    const last = runs.at(-1);
    if (last && !last.strong && !strong) last.text += text;
    else runs.push(strong ? { text, strong } : { text });
  }
  const at = runs.findIndex(({ text, strong }) => !strong && text.includes(". "));
  const cut = (runs[at]?.text.indexOf(". ") ?? 0) + 2;
  const set = (some: Sentence["runs"]): (TemplateResult | ReturnType<typeof unbroken>)[] => some.map(({ text, strong }) => (strong ? html`<strong>${text}</strong>` : unbroken(text)));
  const run = runs[at];
  if (!run) return html`${set(runs)}`;
  return html`${set([...runs.slice(0, at), { text: run.text.slice(0, cut) }])}<span class="also">${set([{ text: run.text.slice(cut) }, ...runs.slice(at + 1)])}</span>`;
}

/** The entries that would sharpen the answer most. */
export function comesFrom(page: Page): TemplateResult | typeof nothing {
  const { result } = page.state;
  if (!result) return nothing;
  const { sensitivity: on, assumed } = result.kind === "two" ? result.comparison.answer : result.first.answer;
  const link = ({ path, label, share }: Sentence["sensitivity"][number]): TemplateResult => html`<a
    class="lean" href="#sheet" @click=${(event: Event) => toEntry(event, page, path, label)}>${label}</a> <small>${Math.round(share * 100)} %</small>`;
  const list = on.map((one, i) => html`${i === 0 ? "" : i === on.length - 1 ? " and " : ", "}${link(one)}`);
  return html`<p class="comes-from">${on.length > 0 ? html`Its uncertainty comes mostly from ${list}. ` : nothing}${assumed}</p>`;
}

/** The label of an entry that only one cell has ends with that cell's name. */
function toEntry(event: Event, page: Page, path: string, label: string): void {
  // The address keeps the state of the sheets.
  event.preventDefault();
  const { first, second, shown } = page.state;
  const side: Side = second && label.endsWith(`(${second.cell})`) ? "second" : "first";
  shown.open.add(MATERIALS);
  unfoldFor(page, path);
  page.show({ filter: "all", search: "" });
  page.focusOn(`[data-place="${CSS.escape(`${side}.${named(side === "second" && second ? second : first, path)}`)}"]`);
}

/** Opens every fold: which one holds an entry is the sheet's to know. */
function unfoldFor(page: Page, path: string): void {
  const inputs = page.state.result?.first.inputs ?? [];
  const others = page.state.result?.kind === "two" ? page.state.result.second.inputs : [];
  const section = [...inputs, ...others].find((one) => one.path === path)?.section;
  if (section) page.state.shown.sections.add(section);
}

function toProblem(): void {
  const field = document.querySelector<HTMLElement>("[aria-invalid=true]") ?? document.querySelector<HTMLElement>("#sheet .problems");
  field?.focus();
}
