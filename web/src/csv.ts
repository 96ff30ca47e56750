/** A table as text: read leniently, written plainly. */

/** Cells of each line; the mark between cells is the one that the first line has most of. */
export function cellsOf(text: string): string[][] {
  const plain = text.replace(/^\uFEFF/, "").replace(/^sep=.\r?\n/, "");
  const first = plain.split(/\r?\n/, 1)[0] ?? "";
  const mark = [";", "\t", ","].reduce((best, one) => (first.split(one).length > first.split(best).length ? one : best), ";");
  const rows: string[][] = [[]];
  let cell = "";
  let quoted = false;
  for (let i = 0; i < plain.length; i++) {
    const letter = plain[i] ?? "";
    if (quoted) {
      if (letter !== '"') cell += letter;
      else if (plain[i + 1] === '"') cell += plain[++i] ?? "";
      else quoted = false;
    } else if (letter === '"' && cell === "") quoted = true;
    else if (letter === mark || letter === "\n") {
      rows.at(-1)?.push(cell.replace(/\r$/, ""));
      cell = "";
      if (letter === "\n") rows.push([]);
    } else cell += letter;
  }
  rows.at(-1)?.push(cell);
  return rows.filter((row) => row.some((one) => one.trim() !== ""));
}

const quote = (cell: string): string => (/[;"\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);

export const textOfCells = (rows: string[][]): string => rows.map((row) => row.map(quote).join(";")).join("\n") + "\n";
