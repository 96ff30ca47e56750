/** How sure the figures are: Monte Carlo beside the law of propagation, and which entries the uncertainty comes from. */
import { html, nothing, svg, type TemplateResult } from "../template";
import { axisBelow } from "../draw/axis";
import { scale } from "../draw/scale";
import type { DrawnFigure, Sensitivity, SensitivityQuestion, Sampled, SampledQuestion } from "../model/contract";
import type { Page } from "../page";
import { picture } from "./frame";
import { plot, spoken, type Reading } from "./plot";
import { isOld, work } from "./study";
import { choice, list, table } from "./table";
import { cellName, cut, said } from "./words";

const TRIALS = 20_000;
/** Bars of the tornado; the rest stand in its table. */
const MOST_BARS = 12;

const cells = ({ state: { first, second } }: Page): { sheet: typeof first; second?: typeof first } => ({ sheet: first, ...(second && { second }) });

const WHOSE: Record<DrawnFigure["of"], (page: Page) => TemplateResult | string> = {
  first: (page) => cellName(page.state, "first"),
  second: (page) => cellName(page.state, "second"),
  change: () => "change",
  hardware: () => "parts alone",
};

export function spread(page: Page): TemplateResult {
  const drawn: SampledQuestion = { ...cells(page), draws: TRIALS };
  const sensitivity: SensitivityQuestion = { ...cells(page), figure: page.state.shown.sensitivity };
  const { sampled, sensitivity: shares } = page.state.studies;
  const figures = page.state.result?.first.headline ?? [];
  return html`<section id="spread">
    <h3>Sensitivity: contributions to variance</h3>
    <p class="controls">${choice("sensitivity-figure", "of", figures.map(({ id, label }) => [id, label]), page.state.shown.sensitivity, (sensitivity) => page.show({ sensitivity }))}</p>
    ${work(page, { kind: "sensitivity", name: "the contributions to variance", asked: sensitivity, quick: true })}
    ${shares.answer ? html`<div class=${isOld(page, "sensitivity", sensitivity) ? "old" : ""}>${sensitivities(page, shares.answer)}</div>` : nothing}
    <h3>Monte Carlo, ${TRIALS.toLocaleString("en")} trials</h3>
    <p class="note">The page carries an uncertainty through to first order (law of propagation): ± is one standard uncertainty, and twice that holds a figure with about 95 %. Monte Carlo trials, in which every uncertain entry takes a random value from its distribution, show whether that is enough.</p>
    ${work(page, { kind: "sampled", name: "the trials", asked: drawn, quick: true, insight: "sure" })}
    ${sampled.answer ? html`<div class=${isOld(page, "sampled", drawn) ? "old" : ""}>${draws(page, sampled.answer)}</div>` : nothing}
  </section>`;
}

function draws(page: Page, sampled: Sampled): TemplateResult {
  return html`<p class="finding">${said(sampled.answer)}</p>
    ${histogram(page, sampled)}
    ${table({
      name: "Trials and first order",
      caption: "Each figure by trials, and to first order",
      heads: ["", "by trials", "95 % of the trials", "95 % to first order", "do they agree?"],
      rows: sampled.figures.map((one) => [html`${one.label}${sampled.cells.length > 1 ? html`<small>${WHOSE[one.of](page)}</small>` : nothing}`, one.drawn.text, one.interval, one.first_order_interval, VERDICTS[one.verdict]]),
    })}
    ${list(sampled.remarks, "note")}`;
}

const VERDICTS: Record<DrawnFigure["verdict"], string> = { agrees: "yes", differs: "no", open: "too few trials to tell" };

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`.replace("-", "−");

function sensitivities(page: Page, sensitivity: Sensitivity): TemplateResult {
  return picture(page, {
    id: "tornado",
    title: `${sensitivity.label}${sensitivity.of === "change" ? ", change" : ""}: ${sensitivity.figure.text}`,
    drawing: tornado(page, sensitivity),
    caption: html`Each bar: how far the figure moves when the entry alone moves by one standard uncertainty either way. Their squares add up to the square of the whole.`,
    behind: () => ({ heads: ["entry", "as written", "contribution to the variance"], rows: sensitivity.shares.map(({ label, text, share }) => [label, text, percent(share)]) }),
  });
}

function tornado(page: Page, sensitivity: Sensitivity): TemplateResult {
  const { narrow } = page.state.shown;
  const bars = sensitivity.shares.filter(({ share }) => share > 0).slice(0, MOST_BARS);
  const [width, row] = [narrow ? 340 : 700, 34];
  const height = bars.length * row + 54;
  const u = sensitivity.figure.u ?? 0;
  const reach = bars.map(({ share }) => u * Math.sqrt(share));
  const most = Math.max(...reach, 1e-12);
  const x = scale(-most, most, 12, width - 12, narrow ? 4 : 8);
  const reading = (i: number): Reading => ({ marks: [{ x: x(reach[i] ?? 0), y: i * row + 24, colour: "var(--second)" }], words: `${bars[i]?.label}, ${bars[i]?.text}: ± ${spoken(reach[i], sensitivity.figure.unit, 2)}, ${percent(bars[i]?.share ?? 0)} of the variance` });
  const drawing = svg`<path d=${`M${x(0)} 0V${height - 46}`} stroke="var(--soft)" fill="none" />
    ${bars.map(({ label, share }, i) => svg`<text x="12" y=${i * row + 13}>${cut(label, narrow ? 34 : 80)}</text><text x=${width - 12} y=${i * row + 13} text-anchor="end">${percent(share)}</text>
      <rect x=${x(-(reach[i] ?? 0))} y=${i * row + 18} width=${Math.max(1, x(reach[i] ?? 0) - x(-(reach[i] ?? 0)))} height="11" fill="var(--second)" />`)}
    ${axisBelow(x, height - 44, `± ${sensitivity.figure.unit}`)}`;
  return plot(page, { id: "tornado", width, height, drawing, steps: bars.length, at: reading });
}

/** The trials of the figure that is looked at: a bar between each two of its quantiles, as high as the trials stand dense there. */
function histogram(page: Page, sampled: Sampled): TemplateResult | typeof nothing {
  const of = sampled.cells.length > 1 ? "change" : "first";
  const one = sampled.figures.find((figure) => figure.id === page.state.shown.sensitivity && figure.of === of) ?? sampled.figures.find((figure) => figure.of === of);
  // The outermost steps reach as far as the furthest trial: a bar there says nothing of density.
  const steps = (one?.quantiles ?? []).slice(1, -1);
  if (!one || steps.length < 3) return nothing;
  const { narrow } = page.state.shown;
  const [width, height] = narrow ? [340, 220] : [700, 240];
  const bars = steps.slice(1).map(([share, value], i) => {
    const [from, low] = steps[i] ?? [0, value];
    return { low, high: value, share: share - from, below: from, dense: (share - from) / Math.max(value - low, 1e-300) };
  });
  const ground = height - 48;
  const [left, right] = [Math.min(steps[0]?.[1] ?? 0, one.first_order.low ?? Infinity), Math.max(steps.at(-1)?.[1] ?? 1, one.first_order.high ?? -Infinity)];
  const x = scale(left, right, 14, width - 14, narrow ? 4 : 8);
  const most = Math.max(...bars.map(({ dense }) => dense));
  const up = (dense: number): number => ground - (dense / most) * (ground - 22);
  const { low, high } = one.first_order;
  const drawing = svg`${bars.map((bar) => svg`<rect x=${x(bar.low)} y=${up(bar.dense)} width=${Math.max(0.5, x(bar.high) - x(bar.low) - 0.5)} height=${ground - up(bar.dense)} fill="var(--second)" />`)}
    ${low === undefined || high === undefined ? nothing : svg`<path d=${`M${x(low)} ${ground - 14}v14M${x(high)} ${ground - 14}v14M${x(low)} ${ground - 7}H${x(high)}`} stroke="var(--mark)" stroke-width="2.5" fill="none" />`}${axisBelow(x, ground, one.drawn.unit)}`;
  return picture(page, {
    id: "histogram",
    title: `${one.label}${of === "change" ? ", change" : ""}: ${sampled.draws.toLocaleString("en")} trials`,
    drawing: plot(page, { id: "histogram", width, height, drawing, steps: bars.length, at: (i) => {
      const bar = bars[i];
      return { marks: [{ x: x(((bar?.low ?? 0) + (bar?.high ?? 0)) / 2), y: up(bar?.dense ?? 0), colour: "var(--second)" }], across: { from: 16, to: ground }, words: `${spoken(bar?.low, "")} to ${spoken(bar?.high, one.drawn.unit)}: ${percent(bar?.share ?? 0)} of the trials; ${percent(bar?.below ?? 0)} lie below` };
    } }),
    caption: html`Each bar holds an equal share of the trials, and its height is their density; the outermost twentieth is not shown. The line below the bars is the 95 % interval to first order.`,
    behind: () => ({ heads: ["share of the trials below", one.drawn.unit], rows: one.quantiles }),
  });
}
