/**
 * Two builds of one page. `vite build` writes dist/ for any plain file server; `vite build --mode single` writes
 * dist/single/roulade.html, one file that opens from a disk. Both carry a content policy; the single file's allows
 * no connection at all, so the browser itself sees to it that nothing is loaded or sent.
 */
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { deflateRawSync } from "node:zlib";
import { fileURLToPath } from "node:url";
import { defineConfig, type Plugin } from "vite";

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));
const wasm = (model: string) => `/model/${model}/roulade_wasm_bg.wasm`;

/**
 * `virtual:models`: each model's bytes and the worker that runs them. They are shipped deflated and inflated by the page, so that
 * a plain file server, which compresses nothing, sends no more than another. The normal build fetches the small model and, later,
 * the whole one; the single file carries the whole one, once, for all.
 */
function models(single: boolean): Plugin {
  const name = "virtual:models";
  let serving = false;
  const packed = (model: string): Buffer => deflateRawSync(readFileSync(here(`.${wasm(model)}`)), { level: 9 });
  const inflate = `const inflated = (stream) => new Response(stream.pipeThrough(new DecompressionStream("deflate-raw"))).arrayBuffer();`;
  const fetched = (model: string, priority: string, url: string) => `
    import Worker_${model} from "/src/model/${model}.worker.ts?worker&inline";
    export const ${model} = {
      Worker: Worker_${model},
      async bytes() {
        const url = ${url};
        const answer = await fetch(url, { priority: "${priority}" });
        if (!answer.ok) throw new Error(url + ": " + answer.status + " " + answer.statusText);
        return ${serving ? "answer.arrayBuffer()" : "inflated(answer.body)"};
      },
    };`;
  const carried = () => `
    import Worker from "/src/model/whole.worker.ts?worker&inline";
    ${inflate}
    const text = "${packed("whole").toString("base64")}";
    export const whole = {
      Worker,
      bytes: () => inflated(new Blob([Uint8Array.from(atob(text), (c) => c.charCodeAt(0))]).stream()),
    };
    export const first = whole;`;
  return {
    name: "roulade:models",
    configResolved: (config) => void (serving = config.command === "serve"),
    resolveId: (id) => (id === name ? `\0${name}` : undefined),
    load(id) {
      if (id !== `\0${name}`) return undefined;
      if (single) return carried();
      const url = (model: string): string => {
        if (serving) return JSON.stringify(wasm(model));
        const file = this.emitFile({ type: "asset", name: `${model}.model`, source: packed(model) });
        return `import.meta.ROLLUP_FILE_URL_${file}`;
      };
      return inflate + fetched("first", "high", url("first")) + fetched("whole", "low", url("whole"));
    },
  };
}

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
          // Inside an element a script may not spell that element's end, and HTML reads a carriage return as a line feed.
          const code = script.replace(/<(?=\/script|!--)/gi, "\\x3c").replaceAll("\r", "\\r");
          // From the head down, each before what it brings could hold another such place.
          replace(
            /<head>/g,
            policy(
              `script-src ${hash(code)} 'wasm-unsafe-eval' blob:`,
              "worker-src blob:",
              `style-src ${hash(style)}`,
              "img-src data: blob:",
            ),
          );
          replace(/<link rel="stylesheet"[^>]*>/g, `<style>${style}</style>`);
          replace(/<script type="module"[^>]*><\/script>/g, `<script type="module">${code}</script>`);
          page.fileName = "roulade.html";
        } else {
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
    plugins: [models(single), notices(single), seal(single)],
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
      rolldownOptions: { output: { codeSplitting: !single } },
    },
  };
});
