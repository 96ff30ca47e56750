/// <reference types="vite/client" />

/** The models: bytes that are fetched beside the page, or carried in the single file, as their worker takes them: packed, or as they are. */
declare module "virtual:models" {
  export interface Kept {
    bytes: () => Promise<ArrayBuffer>;
    packed: boolean;
  }
  export const first: Kept;
  export const whole: Kept;
}
