/** What the page does in every browser, whoever drives it: by a `visit` to an address, and by waiting `until` the page says something. */
import assert from "node:assert/strict";

const ANSWER = `document.querySelector("#answer[aria-busy=false] [data-foremost=volumetric] td:last-child")?.textContent ?? ""`;

/** It answers, follows an edit, undoes it, draws what takes longer, and has nothing to complain of. */
export async function follows({ visit, until }, address) {
  await visit(`${address}#demo-one`);
  const before = await until(`/±/.test(${ANSWER}) ? ${ANSWER} : ""`);
  await until(`(() => {
    const field = document.querySelector("[data-place='first.cathode.loading']");
    if (!field) return "";
    field.focus();
    field.value = "18 mg/cm²";
    field.dispatchEvent(new InputEvent("input", { bubbles: true }));
    return "typed";
  })()`);
  await until(`${ANSWER} !== ${JSON.stringify(before)} ? "changed" : ""`);
  await until(`(document.querySelector("[data-do=undo]").click(), "undone")`);
  await until(`${ANSWER} === ${JSON.stringify(before)} ? "back" : ""`);
  await until(`(document.querySelector("[data-task=size]").click(), "asked")`);
  await until(`document.querySelector("#sizes-picture .contour") ? "drawn" : ""`);
  assert.equal(await until(`String(document.documentElement.scrollWidth <= innerWidth)`), "true");
  assert.equal(await until(`String(document.querySelectorAll(".message").length)`), "0");
}
