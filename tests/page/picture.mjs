/** Writes web/picture.png, the picture of the page in the README: the demo pair, 1280 wide, light, in 256 colours. */
import { writeFile } from "node:fs/promises";
import { crc32, deflateSync } from "node:zlib";
import { builds, open, visit } from "./harness.mjs";

const MOST_BYTES = 250_000;

const stand = await open();
const { page } = await visit(stand.browser, builds["normal build"](stand.address), { colorScheme: "light" });
const bottom = await page.locator("#section svg.picture").evaluate((svg) => svg.getBoundingClientRect().bottom + scrollY);
const shot = await page.screenshot({ fullPage: true, clip: { x: 0, y: 0, width: 1280, height: Math.ceil(bottom) + 2 } });

/** Width, height, up to 256 colours as "r,g,b", and for each pixel which of them; the browser reads the picture. */
const { width, height, colours, text } = await page.evaluate(async (base64) => {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  const bitmap = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
  const { width, height } = bitmap;
  const canvas = new OffscreenCanvas(width, height).getContext("2d");
  canvas.drawImage(bitmap, 0, 0);
  const { data } = canvas.getImageData(0, 0, width, height);
  // Shades of smoothed edges differ by less than the eye tells apart: five bits of each are kept.
  const counts = new Map();
  const key = (at) => `${data[at] & 0xf8},${data[at + 1] & 0xf8},${data[at + 2] & 0xf8}`;
  const exact = new Map();
  for (let at = 0; at < data.length; at += 4) {
    counts.set(key(at), (counts.get(key(at)) ?? 0) + 1);
    if (!exact.has(key(at))) exact.set(key(at), [data[at], data[at + 1], data[at + 2]]);
  }
  const kept = [...counts].sort((a, b) => b[1] - a[1]).slice(0, 256).map(([one]) => one);
  const colours = kept.map((one) => exact.get(one));
  const nearest = new Map(kept.map((one, i) => [one, i]));
  const find = (one) => {
    const [r, g, b] = exact.get(one);
    let best = 0;
    let least = Infinity;
    for (const [i, [x, y, z]] of colours.entries()) {
      const far = (x - r) ** 2 + (y - g) ** 2 + (z - b) ** 2;
      if (far < least) [best, least] = [i, far];
    }
    return best;
  };
  let text = "";
  for (let at = 0; at < data.length; at += 4) {
    const one = key(at);
    if (!nearest.has(one)) nearest.set(one, find(one));
    text += String.fromCharCode(nearest.get(one));
  }
  return { width, height, colours, text: btoa(text) };
}, shot.toString("base64"));
await stand.close();

/** A chunk of a PNG file: length, type, data, check (PNG, third edition, section 5.3). */
function chunk(type, data) {
  const body = Buffer.concat([Buffer.from(type), data]);
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  check.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, check]);
}

const pixels = Buffer.from(text, "base64");
const head = Buffer.alloc(13);
head.writeUInt32BE(width);
head.writeUInt32BE(height, 4);
head.set([8, 3], 8);
// Each line begins with its filter, none.
const lines = Buffer.concat(Array.from({ length: height }, (_, y) => Buffer.concat([Buffer.from([0]), pixels.subarray(y * width, (y + 1) * width)])));
const png = Buffer.concat([
  Buffer.from([0x89, ...Buffer.from("PNG\r\n"), 0x1a, 0x0a]),
  chunk("IHDR", head),
  chunk("PLTE", Buffer.from(colours.flat())),
  chunk("IDAT", deflateSync(lines, { level: 9 })),
  chunk("IEND", Buffer.alloc(0)),
]);
if (png.length > MOST_BYTES) throw new Error(`the picture has ${png.length} bytes, more than ${MOST_BYTES}`);
await writeFile(new URL("../../web/picture.png", import.meta.url), png);
console.log(`web/picture.png: ${width} × ${height}, ${(png.length / 1000).toFixed(0)} kB`);
