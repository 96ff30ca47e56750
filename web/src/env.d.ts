/// <reference types="vite/client" />

/** The model's bytes: fetched beside the page, or decoded in place in the single file. */
declare module "virtual:model-bytes" {
  export function bytes(): Promise<ArrayBuffer>;
}

/** The generated glue; JSON text in, `Answer` JSON text out. */
declare module "*/roulade_wasm.js" {
  export default function init(from: { module_or_path: ArrayBuffer }): Promise<unknown>;
  export function estimate(sheet: string): string;
  export function compare(first: string, second: string): string;
  export function without(question: string): string;
  export function materials(): string;

}
