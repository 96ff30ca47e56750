/** What every picture and every table has around it: a caption, the table behind, and ways to take it away. */
import { html, nothing, type TemplateResult } from "../template";
import { copyText, fileName, saveText, svgText, toCsv, toTabs, type Datum } from "../draw/save";
import type { Page } from "../page";

export interface Behind {
  heads: string[];
  rows: Datum[][];
}

export interface Picture {
  id: string;
  title: string;
  drawing: TemplateResult;
  /** What to read off it. */
  caption: TemplateResult | string;
  controls?: TemplateResult;
  /** Computed only while it is looked at. */
  behind: () => Behind;
}

const svgIn = (event: Event): SVGSVGElement | null | undefined => (event.currentTarget as Element).closest("figure")?.querySelector<SVGSVGElement>("svg.picture");

export function picture(page: Page, { id, title, drawing, caption, controls, behind }: Picture): TemplateResult {
  const save = (event: Event): void => {
    const drawn = svgIn(event);
    if (drawn) saveText(fileName(`${id} ${cells(page)}`, "svg"), "image/svg+xml", svgText(drawn));
  };
  const open = page.state.shown.open;
  const toggle = (event: Event): void => {
    if ((event.currentTarget as HTMLDetailsElement).open) open.add(id);
    else open.delete(id);
    page.draw();
  };
  return html`<figure id=${id} class="figure">
    <h2 id="${id}-title">${title}</h2>
    ${controls ?? nothing}${drawing}
    <figcaption>${caption}</figcaption>
    <div class="tools"><button type="button" class="plain" @click=${save}>save SVG</button></div>
    <details class="behind" @toggle=${toggle}>
      <summary>the table behind it</summary>
      ${open.has(id) ? dataTable(page, title, behind()) : nothing}
    </details>
  </figure>`;
}

/** Rows shown of a long table; all of them are in what is saved and copied. */
const MOST_ROWS = 120;

/** A plain table that scrolls in its own box, to copy or to save. */
export function dataTable(page: Page, title: string, { heads, rows: all }: Behind): TemplateResult {
  const rows = all.slice(0, MOST_ROWS);
  return html`<div class="scroll tall" tabindex="0" role="region" aria-label="Table: ${title}">
      <table>
        <caption class="unseen">${title}</caption>
        <thead><tr>${heads.map((head) => html`<th scope="col">${head}</th>`)}</tr></thead>
        <tbody>${rows.map(
          (row) => html`<tr>${row.map((datum, i) =>
            i === 0 ? html`<th scope="row">${datum}</th>` : html`<td class=${typeof datum === "number" ? "number" : ""}>${typeof datum === "number" ? tidy(datum) : datum}</td>`,
          )}</tr>`,
        )}</tbody>
      </table>
    </div>
    ${all.length > rows.length ? html`<p class="note">The first ${rows.length} of ${all.length} rows; the CSV holds all.</p>` : nothing}
    ${takeAway(page, title, () => [heads, ...all])}`;
}

/** Buttons that copy a table or save it as CSV. */
export function takeAway(page: Page, title: string, rows: () => Datum[][]): TemplateResult {
  const copy = async (): Promise<void> => page.say((await copyText(toTabs(rows()))) ? `${title}: copied.` : "The browser did not let the page copy.");
  const save = (): void => saveText(fileName(`${title} ${cells(page)}`, "csv"), "text/csv", toCsv(rows()));
  return html`<div class="tools"><button type="button" class="plain" @click=${copy}>copy table</button
    ><button type="button" class="plain" @click=${save}>save CSV</button></div>`;
}

const cells = ({ state: { first, second } }: Page): string => `${first.cell} ${second?.cell ?? ""}`;

/** Short on the page; the whole number is in the CSV. */
const tidy = (value: number): string => String(Number(value.toPrecision(5))).replace("-", "−");
