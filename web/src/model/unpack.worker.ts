/** Unpacks one file beside the page, which goes on meanwhile. */
import { unpack } from "./unpack";

self.addEventListener("message", ({ data }: MessageEvent<ArrayBuffer>) => {
  const { buffer } = unpack(new Uint8Array(data));
  self.postMessage(buffer, { transfer: [buffer] });
});
