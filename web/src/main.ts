/** Starts the page: draws the demo, asks the model, follows the link. */
import { render } from "lit-html";
import { learnQuantities } from "./catalogue";
import { learn } from "./materials";
import { Model } from "./model/client";
import { prepareWhole, startFirst, startWhole } from "./model/start";
import { Page } from "./page";
import "./style/tokens.css";
import "./style/controls.css";
import "./style/tables.css";
import "./style/sheet.css";
import "./style/page.css";
import "./style/study.css";
import "./style/print.css";
import { whole } from "./view/whole";

const root = document.querySelector<HTMLElement>("#page");
if (!root) throw new Error("the page has no #page");
root.replaceChildren();

const model = new Model(startFirst);
const page = new Page(model, startWhole, (drawn) => render(whole(drawn), root));

const narrow = matchMedia("(max-width: 640px)");
page.state.shown.narrow = narrow.matches;
narrow.addEventListener("change", () => page.show({ narrow: narrow.matches }));

addEventListener("hashchange", () => void page.follow(location.hash));

// A place on the page must not take the state's place in the address.
document.querySelector("a.skip")?.addEventListener("click", (event) => {
  event.preventDefault();
  document.querySelector<HTMLElement>("#answer")?.focus();
});

// A file dropped beside its place must not replace the page.
for (const name of ["dragover", "drop"]) addEventListener(name, (event) => event.preventDefault());

// Closed notes are printed too.
let opened: HTMLDetailsElement[] = [];
addEventListener("beforeprint", () => {
  opened = [...document.querySelectorAll<HTMLDetailsElement>("details[data-print]:not([open])")];
  for (const one of opened) one.open = true;
});
addEventListener("afterprint", () => {
  for (const one of opened) one.open = false;
});

await page.follow(location.hash);
page.askAgain();
page.draw();

// The worker answers one after another: by now the first answer is on its way to the screen.
const quantities = await model.ask({ quantities: {} });
const materials = await model.ask({ materials: {} });
if (quantities && "ok" in quantities && materials && "ok" in materials) {
  learnQuantities(quantities.ok);
  learn(materials.ok);
  page.state.materials = materials.ok.map(({ name }) => name);
  page.draw();
}
// The rest of loading: from here on the page needs no network.
prepareWhole();
