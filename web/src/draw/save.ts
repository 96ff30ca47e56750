/** Pictures and tables as files, and text on the clipboard. */

/** A cell of a table: text from people, or a number. */
export type Datum = string | number | null;

export function saveText(name: string, type: string, text: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

/** A file name from words. */
export const fileName = (words: string, end: string): string => `${words.normalize().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "").slice(0, 60) || "cell"}.${end}`;

/** Quoted where needed; text that a spreadsheet would run as a formula is led by an apostrophe. */
function quoted(datum: Datum): string {
  if (datum === null) return "";
  if (typeof datum === "number") return String(datum);
  const safe = /^[=+\-@\t\r]/.test(datum) ? `'${datum}` : datum;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

export const toCsv = (rows: readonly Datum[][]): string => rows.map((row) => row.map(quoted).join(",")).join("\r\n") + "\r\n";

export const toTabs = (rows: readonly Datum[][]): string =>
  rows.map((row) => row.map((datum) => String(datum ?? "").replace(/[\t\r\n]+/g, " ")).join("\t")).join("\n");

const KEPT = [
  "fill", "fill-opacity", "stroke", "stroke-width", "stroke-opacity", "stroke-dasharray", "stroke-linejoin", "opacity",
  "font-family", "font-size", "font-weight", "font-style", "text-anchor", "paint-order", "display",
];

/** The picture as a file of its own: the page's styles become attributes, on the page's paper. */
export function svgText(picture: SVGSVGElement): string {
  const copy = picture.cloneNode(true) as SVGSVGElement;
  const shown = [picture, ...picture.querySelectorAll<SVGElement>("*")];
  const written = [copy, ...copy.querySelectorAll<SVGElement>("*")];
  for (const [i, element] of written.entries()) {
    const style = getComputedStyle(shown[i] ?? picture);
    for (const property of KEPT) {
      const value = style.getPropertyValue(property).replaceAll(/url\("([^"]+)"\)/g, "url($1)");
      if (value && value !== "normal" && !(property === "display" && value !== "none")) element.setAttribute(property, value);
    }
    for (const name of ["class", "style", "tabindex", "aria-labelledby"]) element.removeAttribute(name);
  }
  const [, , width = "0", height = "0"] = (picture.getAttribute("viewBox") ?? "").split(/\s+/);
  copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  copy.setAttribute("width", width);
  copy.setAttribute("height", height);
  const paper = document.createElementNS("http://www.w3.org/2000/svg", "rect");
  for (const [name, value] of Object.entries({ width, height, fill: getComputedStyle(document.body).backgroundColor })) paper.setAttribute(name, value);
  copy.prepend(paper);
  return new XMLSerializer().serializeToString(copy).replaceAll(/<!--.*?-->/gs, "");
}

/** Whether the text reached the clipboard. */
export async function copyText(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    const area = document.createElement("textarea");
    area.value = text;
    document.body.append(area);
    area.select();
    const done = document.execCommand("copy");
    area.remove();
    return done;
  }
}
