/** The answer, as a sentence, before anything else. */
import { html, nothing, type TemplateResult } from "lit-html";
import { named, type Side } from "../entry";
import type { Sentence } from "../model/contract";
import type { Page } from "../page";
import { isStale } from "../state";
import { MATERIALS } from "./sheet";
import { unbroken } from "./words";

export function answer(page: Page): TemplateResult {
  const { result, problems } = page.state;
  const said = result && (result.kind === "two" ? result.comparison.answer : result.first.answer);
  const stale = isStale(page.state);
  return html`<section id="answer" tabindex="-1" aria-label="The answer" aria-busy=${page.state.busy ? "true" : "false"}>
    ${stale
      ? html`<p class="stale" id="stale"><b>Stale.</b> This is the last good answer; the sheet was changed since, and as it stands it has none:
          <button type="button" class="link" @click=${toProblem}>${problems.length === 1 ? "one entry" : `${problems.length} entries`} to mend</button>.</p>`
      : nothing}
    <div role="status">
      ${said
        ? html`<p class="sentence" ?data-stale=${stale}>${sentences(said)}</p>`
        : html`<p class="sentence waiting">${problems.length > 0 ? "There is no answer yet: the sheet below says what it needs." : "Winding …"}</p>`}
    </div>
    ${said ? leans(page, said) : nothing}
  </section>`;
}

/** The first sentence is the answer; what follows it is set smaller. */
function sentences({ runs: told }: Sentence): TemplateResult {
  const runs: Sentence["runs"] = [];
  for (const { text, strong } of told) {
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

function leans(page: Page, { leans: on, assumed }: Sentence): TemplateResult {
  const link = ({ path, label, share }: Sentence["leans"][number]): TemplateResult => html`<a
    class="lean" href="#sheet" title="${Math.round(share * 100)} % of the variance" @click=${(event: Event) => toEntry(event, page, path, label)}>${label}</a>`;
  const list = on.map((one, i) => html`${i === 0 ? "" : i === on.length - 1 ? " and " : ", "}${link(one)}`);
  return html`<p class="leans">${on.length > 0 ? html`This leans most on ${list}. ` : nothing}${assumed}</p>`;
}

/** The label of an entry that only one cell has ends with that cell's name. */
function toEntry(event: Event, page: Page, path: string, label: string): void {
  // The address keeps the state of the sheets.
  event.preventDefault();
  const { first, second, shown } = page.state;
  const side: Side = second && label.endsWith(`(${second.cell})`) ? "second" : "first";
  shown.open.add(MATERIALS);
  page.show({ filter: "all" });
  page.focusOn(`[data-place="${CSS.escape(`${side}.${named(side === "second" && second ? second : first, path)}`)}"]`);
}

function toProblem(): void {
  const field = document.querySelector<HTMLElement>("[aria-invalid=true]") ?? document.querySelector<HTMLElement>("#sheet .problems");
  field?.focus();
}
