/** The mix of a coating: materials and their shares by mass. */
import { html, nothing, type TemplateResult } from "../template";
import { mixOf, type Side } from "../entry";
import type { Page } from "../page";
import type { MixRows } from "../rows";
import { sheetOf } from "../state";
import { field } from "./field";
import { nameOf } from "./words";

export function mix(page: Page, { electrode, rows }: MixRows, sides: Side[]): TemplateResult {
  return html`${rows.map(
      (row, at) => html`<tr><th scope="row">${row.label}</th>${sides.map((side) => html`<td data-cell=${nameOf(page.state, side)}>${component(page, electrode, row, at, side)}</td>`)}</tr>`,
    )}
    <tr class="more"><td></td>${sides.map((side) => {
      const add = (): void => {
        const held = mixOf(sheetOf(page.state, side) ?? page.state.first, electrode);
        const nameless = held.findIndex(({ material }) => material === "");
        if (nameless < 0) page.edit(side, [{ add: `${electrode}.mix`, item: { material: "", share: "0" } }], `a component of the ${electrode}`);
        page.focusOn(`[data-place="${side}.${electrode}.mix[${nameless < 0 ? held.length : nameless}].material"]`);
      };
      return html`<td data-cell=${nameOf(page.state, side)}><button type="button" class="plain" data-add-component="${side}.${electrode}" aria-label="add a component: ${electrode}, ${nameOf(page.state, side)}" @click=${add}>add a component</button></td>`;
    })}</tr>`;
}

function component(page: Page, electrode: MixRows["electrode"], row: MixRows["rows"][number], at: number, side: Side): TemplateResult | typeof nothing {
  const sheet = sheetOf(page.state, side);
  const held = sheet && mixOf(sheet, electrode)[at];
  const share = row.fields[side];
  if (!held || !share) return nothing;
  const cell = nameOf(page.state, side);
  const key = `${electrode}.mix[${at}]`;
  const rename = (event: Event): void => page.edit(side, [{ set: `${key}.material`, to: (event.currentTarget as HTMLInputElement).value }], `a material of the ${electrode}`);
  const takeOut = (): void => page.edit(side, [{ remove: key }], `taking ${held.material || "a component"} out of the ${electrode}`);
  return html`<div class="component">
    <input type="text" class="material" list="materials" data-place="${side}.${key}.material" aria-label="material ${at + 1} of the ${electrode}, ${cell}"
      .value=${held.material} autocomplete="off" spellcheck="false" @change=${rename} />
    ${field(page, { ...share, label: `share of ${held.material || "this material"}` })}
    <button type="button" class="plain" aria-label="take out: ${held.material || "this material"}, ${electrode}, ${cell}" @click=${takeOut}>take out</button>
  </div>`;
}
