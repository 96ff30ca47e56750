/** What every long piece of work shows: a button, a bar while it runs, a word when its answer is older than the sheets. */
import { html, nothing, type TemplateResult } from "lit-html";
import type { LongKind } from "../model/contract";
import type { Page } from "../page";

export interface Work {
  kind: LongKind;
  /** The words on the button: "work out what each change is worth". */
  button: string;
  /** The question as it stands now, or why it cannot be asked. */
  run: () => void;
  /** JSON of the question as it stands now. */
  asks: string;
  /** Places of problems that are told where they arise. */
  inPlace?: (place: string) => boolean;
}

export function work(page: Page, { kind, button, run, asks, inPlace }: Work): TemplateResult {
  const { share, asked, answer, problems, stopped } = page.state.studies[kind];
  const old = share === null && answer !== null && asked !== asks;
  const told = problems.filter(({ place }) => !inPlace?.(place));
  return html`<div class="work">
    ${share === null
      ? html`<button type="button" @click=${run}>${button}</button>`
      : html`<progress max="1" .value=${share} aria-label=${button}></progress>
          <button type="button" class="plain" @click=${() => page.bench.stop(kind)}>stop</button>`}
    <span role="status">${share === null ? (stopped ? "Stopped." : old ? "What is asked has changed since; this answer is of before." : nothing) : "Working."}</span>
    ${share === null && told.length > 0 ? html`<ul class="problems">${told.map(({ text }) => html`<li>${text}</li>`)}</ul>` : nothing}
  </div>`;
}
