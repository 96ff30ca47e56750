/** What longer work shows: it begins by itself once it is in sight, with a bar while it runs; an answer to what was asked before says so. */
import { html, nothing, type TemplateResult } from "../template";
import type { Asked, LongKind } from "../model/contract";
import type { Page } from "../page";

export interface Work<K extends LongKind> {
  kind: K;
  /** What is worked out, as a name: "contributions of the changes". */
  name: string;
  asked: Asked<K>;
  /** Starts by itself: it takes less than a second or two. */
  quick: boolean;
  /** The chapter that has to be in sight. */
  insight?: string;
  /** The words of the button where it does not start by itself. */
  button?: string;
  /** Places of problems that are told where they arise. */
  inPlace?: (place: string) => boolean;
}

/** Whether the last answer is one to what is asked now. */
export const isOld = (page: Page, kind: LongKind, asked: unknown): boolean => page.state.studies[kind].asked !== JSON.stringify(asked);

export function work<K extends LongKind>(page: Page, { kind, name, asked, quick, insight, button, inPlace }: Work<K>): TemplateResult {
  const { share, answer, problems, stopped } = page.state.studies[kind];
  // A sheet without an answer has none of this kind either.
  const possible = page.state.problems.length === 0;
  if (quick && possible && (!insight || page.state.shown.inSight.has(insight))) queueMicrotask(() => page.jobs.want(kind, asked));
  const old = answer !== null && isOld(page, kind, asked);
  const elsewhere = share === null ? problems.filter(({ place }) => !inPlace?.(place)) : [];
  const run = (): void => void page.jobs.ask(kind, asked);
  return html`<div class="work">
    ${share !== null
      ? html`<progress max="1" .value=${share} aria-label=${name}></progress> <button type="button" class="plain" @click=${() => page.jobs.stop(kind)}>stop</button>`
      : !quick || stopped
        ? html`<button type="button" @click=${run}>${button ?? `Compute ${name}`}</button>`
        : nothing}
    <span class="quiet">${share !== null ? html`Computing ${name} …` : stopped ? "Stopped." : old ? (possible ? "Below: the previous answer." : "Below: the previous answer; the present entries have none.") : nothing}</span>
    ${elsewhere.length > 0 ? html`<ul class="problems">${elsewhere.map(({ text }) => html`<li>${text}</li>`)}</ul>` : nothing}
  </div>`;
}
