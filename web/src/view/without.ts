/** "We take this part out: what do we get?" */
import { html, nothing, type TemplateResult } from "lit-html";
import { partsOf } from "../entry";
import type { Page } from "../page";
import { cellName } from "./words";

const SHARES = [
  [100, "all becomes coating"],
  [85, "85 % becomes coating"],
  [50, "half becomes coating"],
  [0, "none becomes coating"],
] as const;

export function without(page: Page): TemplateResult | typeof nothing {
  const parts = partsOf(page.state.first);
  if (parts.length === 0) return nothing;
  const take = (event: SubmitEvent): void => {
    event.preventDefault();
    const asked = new FormData(event.currentTarget as HTMLFormElement);
    const name = asked.get("part");
    if (typeof name === "string") void page.compareWithout(name, Number(asked.get("reclaim")) / 100);
  };
  return html`<section id="without">
    <h2>Take a part out</h2>
    <form class="inline" @submit=${take}>
      <label for="without-part">of ${cellName(page.state, "first")}</label>
      <select id="without-part" name="part">${parts.map(({ name }) => html`<option value=${name}>${name}</option>`)}</select>
      <label for="without-reclaim">of the height it frees</label>
      <select id="without-reclaim" name="reclaim">${SHARES.map(([percent, words]) => html`<option value=${percent}>${words}</option>`)}</select>
      <button type="submit">compare without it</button>
    </form>
    <p class="note">The first cell is set against itself without the part${page.state.second ? "; the second cell on this page makes room for that copy" : ""}.</p>
  </section>`;
}
