/** Small pieces of text that several blocks share. */
import { html, nothing, type TemplateResult } from "../template";
import type { Side } from "../entry";
import type { Figure, Sentence } from "../model/contract";
import type { State } from "../state";

/** The cell's name in its colour. */
export const cellName = (state: State, side: Side): TemplateResult => html`<span class=${side}><bdi>${nameOf(state, side)}</bdi></span>`;

export const nameOf = (state: State, side: Side): string => (side === "first" ? state.first : (state.second ?? state.first)).cell || "unnamed";

/** "a, b and c". */
export const listed = (names: string[]): string => [names.slice(0, -1).join(", "), ...names.slice(-1)].filter(Boolean).join(" and ");

/** Cut to fit a place in a drawing. */
export const cut = (text: string, most: number): string => (text.length > most ? `${text.slice(0, most - 1).trimEnd()}…` : text);

/** Words that are there for those who ask. */
export const remark = (words: string | undefined): TemplateResult | typeof nothing =>
  words ? html`<details class="remark" data-print><summary aria-label="remark">…</summary><span>${words}</span></details>` : nothing;

/** Text in which no line breaks inside a figure and its unit. */
export const unbroken = (text: string): (TemplateResult | string)[] =>
  text.split(/(\(?[+−]?\d[\d.]* %\)?|\S+ ± \S+(?: [^\s.,;)]+)?)/).map((part, i) => (i % 2 ? html`<span class="unbroken">${part}</span>` : part));

/** A sentence of the model. */
export const said = ({ runs }: Pick<Sentence, "runs">): unknown[] => runs.map(({ text, strong }) => (strong ? html`<strong>${text}</strong>` : unbroken(text)));

/** A figure without its unit, where the head of its row or column says it. */
export const bare = ({ text, unit }: Figure): string => (unit && text.endsWith(` ${unit}`) ? text.slice(0, -unit.length - 1) : text);

/** An entry with its section, where its label does not say whose it is. */
export const inSection = ({ section, label }: { section: string; label: string }): string => (label.includes(": ") ? label : `${section}: ${label}`);

/** What a figure is and its unit, as a head. */
export const withUnit = (label: string, unit: string): string => (unit ? `${label}, ${unit}` : label);
