/** Small pieces of text that several blocks share. */
import { html, type TemplateResult } from "lit-html";
import type { Side } from "../entry";
import type { State } from "../state";

/** The cell's name in its colour. */
export const cellName = (state: State, side: Side): TemplateResult => html`<span class=${side}>${nameOf(state, side)}</span>`;

export const nameOf = (state: State, side: Side): string => (side === "first" ? state.first : (state.second ?? state.first)).cell || "unnamed";

/** Cut to fit a place in a drawing. */
export const cut = (text: string, most: number): string => (text.length > most ? `${text.slice(0, most - 1).trimEnd()}…` : text);
