/** Tables of figures, and small pieces that many blocks are put together from. */
import { html, nothing, type TemplateResult } from "../template";
import { unbroken } from "./words";

export interface Figures {
  /** What it is called, and what its caption says, where that is more. */
  name: string;
  caption?: unknown;
  /** Whether the caption is seen. */
  titled?: boolean;
  heads?: unknown[];
  /** The first cell of a row is its head. */
  rows: unknown[][];
  foot?: unknown[][];
  kind?: "" | "wide" | "many";
  /** Columns of words, which wrap. */
  prose?: number[];
  id?: string;
}

/** A table that scrolls in its own box. */
export function table({ name, caption = name, titled = false, heads, rows, foot = [], kind = "wide", prose = [], id }: Figures): TemplateResult {
  const kindOf = (i: number): string | typeof nothing => (prose.includes(i) ? "prose" : nothing);
  const cells = (row: unknown[]): TemplateResult[] => row.map((cell, i) => (i ? html`<td class=${kindOf(i)}>${cell}</td>` : html`<th scope="row">${cell}</th>`));
  return html`<div class="scroll" tabindex="0" role="region" aria-label=${name}><table class="figures ${kind} ${prose.length ? "worded" : ""}" id=${id || nothing}>
    <caption class=${titled ? nothing : "unseen"}>${caption}</caption>
    ${heads ? html`<thead><tr>${heads.map((head, i) => (head ? html`<th scope="col" class=${kindOf(i)}>${head}</th>` : html`<td></td>`))}</tr></thead>` : nothing}
    <tbody>${rows.map((row) => html`<tr>${cells(row)}</tr>`)}</tbody>
    ${foot.length ? html`<tfoot>${foot.map((row) => html`<tr class="whole">${cells(row)}</tr>`)}</tfoot>` : nothing}
  </table></div>`;
}

/** What is there for those who ask, and on paper. */
export const more = (summary: unknown, content: unknown, open = false): TemplateResult => html`<details class="more" data-print ?open=${open}><summary>${summary}</summary>${content}</details>`;

export const list = (texts: string[], kind: "note" | "problems" | "" = ""): TemplateResult => html`<ul class=${kind || nothing}>${texts.map((text) => html`<li>${unbroken(text)}</li>`)}</ul>`;

export const valueOf = (event: Event): string => (event.currentTarget as HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement).value;

/** One of several, with its label. */
export const choice = (id: string, label: unknown, options: readonly (readonly [value: string, words: unknown])[], now: string | undefined, put: (value: string) => void): TemplateResult =>
  html`<label for=${id}>${label}</label><select id=${id} @change=${heard(put)}>${options.map(([value, words]) => html`<option value=${value} ?selected=${value === now}>${words}</option>`)}</select>`;

/** Hears what is written or chosen. */
export const heard = (put: (text: string) => void) => (event: Event): void => put(valueOf(event));
