/** What the freed height gains, depending on how much of it becomes coated width. */
import { html, nothing, type TemplateResult } from "../template";
import type { Reclaim } from "../model/contract";
import type { Page } from "../page";
import { changed, known } from "./figures";
import { takeAway } from "./frame";
import { table } from "./table";
import { listed, unbroken, withUnit } from "./words";

export function reclaim(page: Page): TemplateResult | typeof nothing {
  const { result } = page.state;
  if (result?.kind !== "two" || !result.comparison.freed || result.comparison.reclaim.length === 0) return nothing;
  const { freed, reclaim: ways } = result.comparison;
  const labels = ways[0]?.rows.map(({ id, label, first }) => ({ id, label: withUnit(label, first.unit) })) ?? [];
  return html`<section id="reclaim">
    <h3>How much of the freed height becomes coating</h3>
    <p class="note">${freed.left.length > 0 ? html`Removed: ${listed(freed.left)}. ` : nothing}${freed.came.length > 0 ? html`Added: ${listed(freed.came)}. ` : nothing}${freed.changed.length > 0 ? html`Changed: ${listed(freed.changed)}. ` : nothing}
      ${unbroken(`Freed: ${freed.height.text}, ${freed.volume.text} of the inside; part volume saved ${freed.solid_volume.text}, part mass saved ${freed.mass.text}.`)}
      From the outside a bench cannot tell these ways apart.</p>
    ${table({
      name: "Contribution of the freed height",
      caption: "The first cell with only its parts changed, by how much of the freed height becomes coated width",
      kind: "many",
      heads: ["", ...ways.map(({ label }) => label)],
      rows: labels.map(({ id, label }) => [label, ...ways.map((way) => {
        const row = way.rows.find((one) => one.id === id);
        return row ? changed(row) : "–";
      })]),
    })}
    ${takeAway(page, "Freed height", () => all(ways))}
    ${apart(page, ways)}
  </section>`;
}

/** The same plate by several figures, together once, with how they differ. */
function apart(page: Page, ways: Reclaim[]): TemplateResult | typeof nothing {
  const attribution = page.state.studies.attribute.answer;
  const share = (way: Reclaim): string => `${Math.round(100 * way.share)} %`;
  const removal = ways.flatMap((way) => {
    const row = way.rows.find(({ id }) => id === "volumetric");
    return row ? [{ what: `parts changed, nothing else; ${share(way)} of the freed height coated`, change: row.change.text, how: way.share === 0 ? "the least: the height stays empty" : way.share === 1 ? "the most: all of the height is coated" : "as the second cell uses the height: the headline" }] : [];
  });
  const contributions = (attribution?.figures.find(({ id }) => id === "volumetric")?.rows ?? [])
    .filter(({ change }) => attribution?.changes.find(({ name }) => name === change)?.moves.some(({ key }) => key.startsWith("parts")))
    .map(({ change, contribution }) => ({ what: `contribution of “${change}”`, change: contribution.text, how: "mean over all orders of all changes, so that the other changes count in it" }));
  if (contributions.length === 0) return nothing;
  return table({ name: "The same parts, by several figures", titled: true, id: "one-plate", heads: ["figure", "energy density", "how it differs"], prose: [2], rows: [...removal, ...contributions].map(({ what, change, how }) => [unbroken(what), change, how]) });
}

const all = (ways: Reclaim[]): (string | number | null)[][] => [
  ["way", "share", "figure", "unit", "first", "first u", "with the parts of the second", "u", "change", "change u"],
  ...ways.flatMap(({ label, share, rows }) => rows.map((row) => [label, share, row.label, row.first.unit, ...known(row.first), ...known(row.second), ...known(row.change)])),
];
