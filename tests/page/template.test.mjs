/** The page's templates: only what has changed is touched, and a value is never markup. */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { after, before, test } from "node:test";
import { pathToFileURL } from "node:url";
import { open } from "./harness.mjs";

const web = new URL("../../web/", import.meta.url);
const { transformWithOxc } = await import(pathToFileURL(createRequire(new URL("package.json", web)).resolve("vite")).href);

let stand;
let page;
before(async () => {
  stand = await open();
  page = await stand.browser.newPage();
  const source = new URL("src/template.ts", web);
  const { code } = await transformWithOxc(await readFile(source, "utf8"), source.pathname);
  await page.evaluate(async (text) => {
    window.T = await import(URL.createObjectURL(new Blob([text], { type: "text/javascript" })));
    window.place = () => document.body.appendChild(document.createElement("div"));
    // Comments mark places; a reader sees none of them.
    window.shown = (element) => element.innerHTML.replaceAll(/<!--.*?-->/g, "");
  }, code);
});
after(() => stand?.close());

/** Runs in the page, where templates are `T`. */
const inPage = (run, ...given) => page.evaluate(run, ...given);

test("a value is text, in an element and in an attribute", async () => {
  const shown = await inPage(() => {
    const at = place();
    const bad = `<img src=x onerror="alert(1)">&amp;`;
    const draw = (text) => T.render(T.html`<p title=${text} class="a ${text} b">${text}</p>`, at);
    draw(bad);
    const p = at.querySelector("p");
    const first = [at.querySelectorAll("img").length, p.title === bad, p.className === `a ${bad} b`, p.textContent === bad];
    // What looks like a template, but came as data, is none.
    T.render(T.html`<p>${{ strings: ["<i>no</i>"], values: [], svg: false }}</p>`, at);
    return [...first, at.querySelectorAll("i").length];
  });
  assert.deepEqual(shown, [0, true, true, true, 0]);
});

test("elements stay where only values change, and nothing is left where the kind of a value does", async () => {
  const [same, ...seen] = await inPage(() => {
    const at = place();
    const draw = (value) => {
      T.render(T.html`<p>[${value}]</p>`, at);
      return shown(at);
    };
    draw("a");
    const p = at.querySelector("p");
    const kinds = [draw("b"), draw(T.html`<b>c</b>`), draw([1, T.html`<i>${2}</i>`, "3"]), draw([1]), draw(T.nothing), draw(0), draw([]), draw(null), draw(T.html`<u></u>`), draw(T.unchanged)];
    return [p === at.querySelector("p"), ...kinds];
  });
  assert.equal(same, true);
  assert.deepEqual(seen, ["[b]", "[<b>c</b>]", "[1<i>2</i>3]", "[1]", "[]", "[0]", "[]", "[]", "[<u></u>]", "[<u></u>]"].map((text) => `<p>${text}</p>`));
});

test("an attribute of several values, one that is taken away, one that is there or not", async () => {
  const seen = await inPage(() => {
    const at = place();
    const draw = (a, b, on) => {
      T.render(T.html`<input class="x ${a} ${b}" id=${a} ?disabled=${on} data-b=${b} />`, at);
      return shown(at);
    };
    return [draw("one", 2, true), draw("one", 3, false), draw(T.nothing, 3, false), draw("two", "", true)];
  });
  assert.match(seen[0], /class="x one 2".*/);
  for (const piece of ['id="one"', 'data-b="2"', "disabled"]) assert.ok(seen[0].includes(piece), seen[0]);
  assert.ok(seen[1].includes('class="x one 3"') && !seen[1].includes("disabled"), seen[1]);
  assert.ok(!/class|id=/.test(seen[2]), seen[2]);
  assert.ok(seen[3].includes('id="two"') && seen[3].includes('class="x two "'), seen[3]);
});

test("a property that people change: put back when it is live, left alone when it is not", async () => {
  const seen = await inPage(() => {
    const at = place();
    const draw = (plain, lively) => T.render(T.html`<input .value=${plain} /><input .value=${T.live(lively)} /><output .textContent=${plain}></output>`, at);
    draw("a", "a");
    const [one, two] = at.querySelectorAll("input");
    one.value = two.value = "typed";
    draw("a", "a");
    const after = [one.value, two.value];
    draw("b", "b");
    return [...after, one.value, two.value, at.querySelector("output").textContent];
  });
  assert.deepEqual(seen, ["typed", "a", "b", "b", "b"]);
});

test("a listener is the latest one, called once; one that is an object has its options", async () => {
  const seen = await inPage(() => {
    const at = place();
    const heard = [];
    const draw = (name) => T.render(T.html`<button @click=${() => heard.push(name)} @wheel=${{ handleEvent: (event) => heard.push(`${name} ${event.cancelable && (event.preventDefault(), event.defaultPrevented)}`), passive: false }}></button>`, at);
    draw("one");
    draw("two");
    at.querySelector("button").click();
    at.querySelector("button").dispatchEvent(new WheelEvent("wheel", { cancelable: true }));
    return heard;
  });
  assert.deepEqual(seen, ["two", "two true"]);
});

test("a list by keys: elements and the focus go with their keys as others come, go and change places", async () => {
  const seen = await inPage(() => {
    const at = place();
    const draw = (keys) => {
      T.render(T.html`<ul>${T.repeat(keys, (key) => key, (key, i) => T.html`<li><input data-key=${key} /> ${i}</li>`)}</ul>`, at);
      return [...at.querySelectorAll("input")].map(({ dataset, value }) => `${dataset.key}${value}`).join(" ");
    };
    draw(["a", "b", "c"]);
    for (const input of at.querySelectorAll("input")) input.value = `:${input.dataset.key}`;
    const b = at.querySelector("[data-key=b]");
    b.focus();
    const orders = [draw(["b", "c"]), draw(["x", "b", "y", "c"])];
    const focused = document.activeElement === b;
    return [...orders, focused, draw(["c", "y", "b", "a"]), draw([]), b.isConnected, at.querySelector("ul").childElementCount];
  });
  assert.deepEqual(seen, ["b:b c:c", "x b:b y c:c", true, "c:c y b:b a", "", false, 0]);
});

test("what is guarded is made again only when something that it shows is another", async () => {
  const seen = await inPage(() => {
    const at = place();
    let made = 0;
    const draw = (...shows) => {
      T.render(T.html`<p>${T.guard(shows, () => `${shows.join()} ${++made}`)}</p>`, at);
      return at.textContent;
    };
    const plain = [draw(1, "a"), draw(1, "a"), draw(1, "b"), draw(1)];
    // What could not be made is tried again.
    const fails = () => T.render(T.html`<p>${T.guard([2], () => { throw new Error("no"); })}</p>`, at);
    try { fails(); } catch {}
    T.render(T.html`<p>${T.guard([2], () => "well")}</p>`, at);
    return [...plain, at.textContent];
  });
  assert.deepEqual(seen, ["1,a 1", "1,a 1", "1,b 2", "1 3", "well"]);
});

test("drawings: elements of SVG in their own namespace, names as they are written", async () => {
  const seen = await inPage(() => {
    const at = place();
    const bars = [3, 4].map((width) => T.svg`<rect width=${width} /><linearGradient id="g${width}" gradientUnits=${"userSpaceOnUse"} />`);
    T.render(T.html`<svg viewBox="0 0 ${7} ${8}">${bars}</svg>`, at);
    const svg = at.querySelector("svg");
    return [svg.getAttribute("viewBox"), svg.querySelectorAll("rect").length, [...svg.children].every(({ namespaceURI }) => namespaceURI === "http://www.w3.org/2000/svg"), svg.querySelector("linearGradient").getAttribute("gradientUnits")];
  });
  assert.deepEqual(seen, ["0 0 7 8", 2, true, "userSpaceOnUse"]);
});
