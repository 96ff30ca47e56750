/// <reference types="vite/client" />

/** The models: bytes that are fetched beside the page, or carried in the single file, as its worker takes them, and the worker that runs them. */
declare module "virtual:models" {
  export interface Kept {
    bytes: () => Promise<ArrayBuffer>;
    Worker: new (options?: { name?: string }) => Worker;
  }
  export const first: Kept;
  export const whole: Kept;
}
