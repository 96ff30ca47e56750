/**
 * Two builds of one page. `vite build` writes dist/ for any plain file server; `vite build --mode single` writes
 * dist/single/roulade.html, one file that opens from a disk. Both carry a content policy; the single file's allows
 * no connection at all, so the browser itself sees to it that nothing is loaded or sent.
 */
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { deflateRawSync } from "node:zlib";
import { fileURLToPath } from "node:url";
import { compress } from "lzma1";
import { defineConfig, type Plugin } from "vite";

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

const read = (model: string): Buffer => readFileSync(here(`./model/${model}/roulade_wasm_bg.wasm`));
/** The models as they are sent. */
const packed = (model: string): Uint8Array => compress(read(model), 9);

/**
 * `virtual:models`: each model's bytes. They are shipped packed and unpacked by the page, so that a
 * plain file server, which compresses nothing, sends no more than another. The normal build fetches the small model, which its worker
 * unpacks, and, while its answer is read, the whole one, which is unpacked once for all its workers. The single file carries the whole
 * one, for everything.
 */
function models(single: boolean): Plugin {
  const name = "virtual:models";
  let serving = false;
  const path = (model: string): string => `/model/${model}.model`;
  const fetched = (priority: string, url: string) => `async () => {
    const url = ${url};
    const answer = await fetch(url, { priority: "${priority}" });
    if (!answer.ok) throw new Error(url + ": " + answer.status + " " + answer.statusText);
    return answer.arrayBuffer();
  }`;
  const kept = (model: string, bytes: string, stillPacked = false) => `export const ${model} = { packed: ${stillPacked}, bytes: ${bytes} };`;
  return {
    name: "roulade:models",
    configResolved: (config) => void (serving = config.command === "serve"),
    configureServer: (server) => {
      for (const model of ["first", "whole"]) server.middlewares.use(path(model), (_asked, answer) => void answer.end(packed(model)));
    },
    resolveId: (id) => (id === name ? `\0${name}` : undefined),
    load(id) {
      if (id !== `\0${name}`) return undefined;
      const unpacking = `import { unpacked } from "/src/model/unpacked.ts";`;
      if (single) return `${unpacking}${kept("whole", `async () => unpacked(${bytesOf("model")}.buffer)`)}export const first = whole;`;
      const url = (model: string): string => {
        if (serving) return JSON.stringify(path(model));
        const file = this.emitFile({ type: "asset", name: `${model}.model`, source: packed(model) });
        return `import.meta.ROLLUP_FILE_URL_${file}`;
      };
      const [first, whole] = [fetched("high", url("first")), fetched("low", url("whole"))];
      return `${unpacking}${kept("first", first, true)}${kept("whole", `async () => unpacked(await (${whole})())`)}`;
    },
  };
}

/** In the single file: the bytes of a block of text, as a script says it. */
const bytesOf = (id: string): string => `Uint8Array.from(atob(document.getElementById("${id}").textContent), (c) => c.charCodeAt(0))`;

/** The single file's scripts are inflated and begun by one that the browser reads first. */
const BEGIN = `const packed = new Blob([${bytesOf("scripts")}]);
const begun = document.createElement("script");
begun.type = "module";
begun.textContent = await new Response(packed.stream().pipeThrough(new DecompressionStream("deflate-raw"))).text();
document.head.append(begun);`;

/** The notices of all that a build carries: of the model as its crate keeps them, and of the page's own packages. */
function noticesText(): string {
  const own = JSON.parse(readFileSync(here("package.json"), "utf8")) as { dependencies: Record<string, string> };
  const seen = new Set<string>();
  const texts: string[] = [];
  const add = (name: string): void => {
    if (seen.has(name)) return;
    seen.add(name);
    const folder = here(`node_modules/${name}`);
    const told = JSON.parse(readFileSync(`${folder}/package.json`, "utf8")) as { version: string; license: string; dependencies?: Record<string, string> };
    const files = readdirSync(folder).filter((file) => /^(licen[cs]e|copying|notice)/i.test(file));
    if (files.length === 0) throw new Error(`${name} brings no text of its licence`);
    texts.push(`${"=".repeat(80)}\n${name} ${told.version} (${told.license})\n\n${files.map((file) => readFileSync(`${folder}/${file}`, "utf8").trim()).join("\n\n")}\n`);
    Object.keys(told.dependencies ?? {}).forEach(add);
  };
  Object.keys(own.dependencies).forEach(add);
  return [readFileSync(here("../crates/roulade-wasm/notices.txt"), "utf8"), ...texts].join("\n");
}

/** The notices go with the page: a file beside it, or, in the single file, at its end. */
function notices(single: boolean): Plugin {
  return {
    name: "roulade:notices",
    apply: "build",
    transformIndexHtml: (html) => {
      const text = noticesText().replaceAll("&", "&amp;").replaceAll("<", "&lt;");
      const shown = single ? `<aside id="notices" aria-label="Third-party notices"><details><summary>Third-party notices</summary><pre>${text}</pre></details></aside>` : `<aside id="notices" aria-label="Third-party notices"><a href="notices.txt">Third-party notices</a></aside>`;
      return html.replace("<!-- notices -->", () => shown);
    },
    generateBundle() {
      if (!single) this.emitFile({ type: "asset", fileName: "notices.txt", source: noticesText() });
    },
  };
}

/**
 * What a browser need not read: indentation, which templates would carry along, and the helper that loads style before a late
 * script, for the page's late script has none.
 */
function lean(): Plugin {
  const helper = "\0vite/preload-helper.js";
  return {
    name: "roulade:lean",
    apply: "build",
    enforce: "pre",
    load: (id) => (id === helper ? "export const __vitePreload = (load) => load();" : undefined),
    transform: (code, id) => (/\/src\/.*\.ts$/.test(id) ? code.replaceAll(/\n\s+/g, "\n") : undefined),
  };
}

const hash = (text: string) => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;

/** Allows what is listed and nothing else; first in the head, so that it holds for all that follows. */
function policy(...allowed: string[]): string {
  const rules = ["default-src 'none'", ...allowed, "base-uri 'none'", "form-action 'none'"];
  return `<head>\n    <meta http-equiv="Content-Security-Policy" content="${rules.join("; ")}">`;
}

/** Puts the policy into the page; in the single file also the style and the script, under their hashes. */
function seal(single: boolean): Plugin {
  return {
    name: "roulade:seal",
    apply: "build",
    // After all of vite's own steps, or hashes would be of a script that is still to change.
    generateBundle: {
      order: "post",
      handler(_options, bundle) {
        const { "index.html": page, ...others } = bundle;
        if (page?.type !== "asset") throw new Error("no index.html among the built files");
        let html = String(page.source);
        // A page of another shape than expected must fail to build rather than go out unsealed.
        const replace = (place: RegExp, by: string) => {
          if (html.match(place)?.length !== 1) throw new Error(`index.html must have ${place} once`);
          html = html.replace(place, () => by);
        };

        if (single) {
          const scripts: string[] = [];
          const styles: string[] = [];
          for (const [name, file] of Object.entries(others)) {
            if (file.type === "chunk") scripts.push(file.code);
            else if (name.endsWith(".css")) styles.push(String(file.source));
            else throw new Error(`${name} has no place in the single file`);
            delete bundle[name];
          }
          const [script, style] = [scripts[0], styles[0]];
          if (script === undefined || style === undefined || scripts.length + styles.length > 2)
            throw new Error(`one script and one style expected, not ${Object.keys(others).join(", ")}`);
          // From the head down, each before what it brings could hold another such place.
          replace(
            /<head>/g,
            policy(
              // A script that is put in as text is held to its hash as one that stood there.
              `script-src ${hash(BEGIN)} ${hash(script)} 'wasm-unsafe-eval' blob:`,
              "worker-src blob:",
              `style-src ${hash(style)}`,
              "img-src data: blob:",
            ),
          );
          replace(/<link rel="stylesheet"[^>]*>/g, `<style>${style}</style>`);
          const block = (id: string, bytes: Uint8Array): string => `<script type="text/plain" id="${id}">${Buffer.from(bytes).toString("base64")}</script>\n    `;
          const scriptBlock = block("scripts", deflateRawSync(script, { level: 9 }));
          replace(/<script type="module"[^>]*><\/script>/g, `${block("model", packed("whole"))}${scriptBlock}<script type="module">${BEGIN}</script>`);
          page.fileName = "roulade.html";
        } else {
          // Asked for beside the scripts, which would come to it only once they are there themselves.
          const model = Object.keys(others).find((name) => /first[^/]*\.model$/.test(name));
          if (model === undefined) throw new Error("the small model is not among the built files");
          replace(/<\/head>/g, `  <link rel="preload" as="fetch" crossorigin href="./${model}">\n  </head>`);
          replace(
            /<head>/g,
            policy(
              "script-src 'self' 'wasm-unsafe-eval' blob:",
              "worker-src blob:",
              "connect-src 'self'",
              "style-src 'self'",
              "img-src 'self' data: blob:",
            ),
          );
        }
        page.source = html;
      },
    },
  };
}

export default defineConfig(({ mode }) => {
  const single = mode === "single";
  return {
    base: "./",
    appType: "mpa",
    publicDir: false,
    plugins: [lean(), models(single), notices(single), seal(single)],
    // A worker carried inside the page is a blob, which has no address that an import could be relative to.
    worker: { format: "iife" },
    // The page imports the scenarios of demo/ as text.
    server: { fs: { allow: [here("."), here("../demo")] } },
    build: {
      target: "es2023",
      outDir: single ? "dist/single" : "dist",
      emptyOutDir: true,
      assetsInlineLimit: single ? Number.MAX_SAFE_INTEGER : 0,
      cssCodeSplit: false,
      modulePreload: { polyfill: false },
      reportCompressedSize: false,
      // Packing takes three seconds, which is known.
      rolldownOptions: { output: { codeSplitting: !single }, checks: { pluginTimings: false } },
    },
  };
});
