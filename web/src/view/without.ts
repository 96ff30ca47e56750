/** "We take this part out: what do we get?" */
import { html, nothing, type TemplateResult } from "../template";
import { partsOf } from "../entry";
import type { Page } from "../page";
import { cellName } from "./words";

const SHARES = ["100 %", "85 %", "50 %", "0 %"];

export function without(page: Page): TemplateResult | typeof nothing {
  const parts = partsOf(page.state.first);
  if (parts.length === 0)
    return html`<section id="without"><p>This cell has no parts to remove yet: write its cap assembly, plates and insulators under “Parts” of its entries, or look at
      <button type="button" class="link" @click=${() => page.demo("part")}>an invented pair of cells</button>.</p></section>`;
  const { reclaim, reclaimProblem } = page.state.shown;
  const take = (event: SubmitEvent): void => {
    event.preventDefault();
    const asked = new FormData(event.currentTarget as HTMLFormElement);
    const [name, share] = [asked.get("part"), asked.get("reclaim")];
    if (typeof name === "string" && typeof share === "string") void page.compareWithout(name, share);
  };
  return html`<section id="without">
    <h3>Remove a part</h3>
    <form class="inline" @submit=${take}>
      <label for="without-part">of ${cellName(page.state, "first")}</label>
      <select id="without-part" name="part">${parts.map(({ name }) => html`<option value=${name}>${name}</option>`)}</select>
      <label for="without-reclaim">of the height it frees, share that becomes coating</label>
      <input id="without-reclaim" name="reclaim" type="text" size="7" .value=${reclaim} list="without-shares" autocomplete="off" required
        aria-invalid=${reclaimProblem ? "true" : "false"} aria-describedby=${reclaimProblem ? "without-problem" : nothing} />
      <datalist id="without-shares">${SHARES.map((share) => html`<option value=${share}></option>`)}</datalist>
      <button type="submit">Compare without it</button>
      ${reclaimProblem ? html`<p class="problem" id="without-problem">${reclaimProblem}</p>` : nothing}
    </form>
    <p class="note">The first cell is compared with itself without the part. The table below has the share you state beside both ends: none of the freed height coated, and all of it${page.state.second ? "; the second cell on this page makes room for that copy" : ""}.</p>
  </section>`;
}
