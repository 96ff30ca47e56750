/** Small pieces of text that several blocks share. */
import { html, nothing, type TemplateResult } from "lit-html";
import type { Side } from "../entry";
import type { State } from "../state";

/** The cell's name in its colour. */
export const cellName = (state: State, side: Side): TemplateResult => html`<span class=${side}>${nameOf(state, side)}</span>`;

export const nameOf = (state: State, side: Side): string => (side === "first" ? state.first : (state.second ?? state.first)).cell || "unnamed";

/** Cut to fit a place in a drawing. */
export const cut = (text: string, most: number): string => (text.length > most ? `${text.slice(0, most - 1).trimEnd()}…` : text);

/** Words that are there for those who ask. */
export const remark = (words: string | undefined): TemplateResult | typeof nothing =>
  words ? html`<details class="remark" data-print><summary aria-label="remark">…</summary><span>${words}</span></details>` : nothing;

/** Text in which no line breaks inside a figure and its uncertainty. */
export const unbroken = (text: string): (TemplateResult | string)[] =>
  text.split(/(\S+ ± \S+(?: [^\s.,;)]+)?)/).map((part, i) => (i % 2 ? html`<span class="unbroken">${part}</span>` : part));
