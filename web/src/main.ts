/** Starts the page: draws a first cell, asks the model, follows the link or what this browser has kept. */
import { render } from "./template";
import { learnQuantities } from "./catalogue";
import { hosts, learn } from "./materials";
import { Model } from "./model/client";
import { startFirst, startWhole } from "./model/start";
import { Page } from "./page";
import "./style/tokens.css";
import "./style/controls.css";
import "./style/tables.css";
import "./style/sheet.css";
import "./style/page.css";
import "./style/study.css";
import "./style/plots.css";
import "./style/print.css";
import { fetchLater, whole } from "./view/whole";

/** Why this browser cannot show the page, or nothing. */
function lacking(): string | null {
  if (typeof WebAssembly !== "object") return "This browser has no WebAssembly, or it is switched off. The page computes with it: please open it in a current browser.";
  if (typeof Worker !== "function" || typeof CompressionStream !== "function") return "This browser is too old for this page (it needs workers and compression streams): please open it in a current one.";
  return null;
}

const root = document.querySelector<HTMLElement>("#page");
if (!root) throw new Error("the page has no #page");
const lack = lacking();
if (lack) {
  root.replaceChildren();
  const words = document.createElement("p");
  words.className = "lacking";
  words.setAttribute("role", "alert");
  words.textContent = lack;
  root.append(words);
} else void run(root); // Not awaited: chunks are kept apart where a module waits.

async function run(place: HTMLElement): Promise<void> {
  let failed = false;
  const restarted = (): void => page.say("The model was started anew.");
  const model = new Model(startFirst, restarted);
  const full = startFirst === startWhole ? model : new Model(startWhole, restarted);
  let blank = true;
  const page = new Page(model, full, startWhole, (drawn) => {
    // Until there is something to draw, "One moment." stands there.
    if (blank) place.replaceChildren();
    blank = false;
    try {
      render(whole(drawn), place);
      failed = false;
    } catch (error) {
      // What cannot be drawn must not leave a blank page: the step that led here is taken back, once.
      console.error(error);
      if (failed) return;
      failed = true;
      drawn.tell("That could not be shown; the last step was taken back.");
      drawn.undo();
    }
  });

  const narrow = matchMedia("(max-width: 640px)");
  page.state.shown.narrow = narrow.matches;
  narrow.addEventListener("change", () => page.show({ narrow: narrow.matches }));

  addEventListener("popstate", ({ state }) => void page.moved(state));
  addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || event.target instanceof HTMLTextAreaElement) return;
    const key = event.key.toLowerCase();
    if (key !== "z" && key !== "y") return;
    event.preventDefault();
    if (key === "y" || event.shiftKey) page.redo();
    else page.undo();
  });

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
    page.print(true);
    opened = [...document.querySelectorAll<HTMLDetailsElement>("details[data-print]:not([open])")];
    for (const one of opened) one.open = true;
  });
  addEventListener("afterprint", () => {
    for (const one of opened) one.open = false;
    page.print(false);
  });

  // Work that a chapter needs begins when the chapter comes into sight.
  const seen = new IntersectionObserver((entries) => {
    const { inSight } = page.state.shown;
    for (const { target, isIntersecting } of entries) {
      const id = (target as HTMLElement).dataset["chapter"] ?? "";
      if (isIntersecting) inSight.add(id);
      else inSight.delete(id);
    }
    page.draw();
  }, { rootMargin: "200px" });

  await page.begin();
  const answered = page.askAgain();
  page.draw();
  requestAnimationFrame(() => {
    for (const one of document.querySelectorAll("[data-chapter]")) seen.observe(one);
  });

  await answered;
  // The first answer is on its way to the screen. The rest of loading: from here on the page needs no network.
  void fetchLater().then(() => page.draw());
  const quantities = await full.ask({ quantities: {} });
  const materials = await full.ask({ materials: {} });
  if (quantities && "ok" in quantities && materials && "ok" in materials) {
    learnQuantities(quantities.ok);
    learn(materials.ok);
    page.state.materials = materials.ok.map(({ name }) => name);
    page.state.hosts = { cathode: hosts("cathode"), anode: hosts("anode") };
    page.draw();
  }
}
