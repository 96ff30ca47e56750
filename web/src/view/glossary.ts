/** Terms of the trade: what they mean, and where on the page they are at work. Definitions after IEC 60050-482, JCGM 200 and the field's textbooks, in this page's own words. */
import { html, nothing, type TemplateResult } from "../template";
import type { Page } from "../page";

interface Term {
  term: string;
  means: string;
  /** The chapter where it is at work. */
  at?: string;
}

const TERMS: Term[] = [
  { term: "Areal loading", means: "Mass of dry coating per area of current collector, on one side: mg/cm²." },
  { term: "C-rate", means: "Discharge current over capacity: 1 C discharges the capacity in one hour. Standards write the current as a multiple of It.", at: "discharge" },
  { term: "Crimp", means: "The can's rim, folded over the cap assembly to close the cell. Its height is lost to the jelly roll.", at: "part" },
  { term: "Current collector", means: "The foil that carries the coating and the current: aluminium for the cathode, copper for the anode.", at: "mass" },
  { term: "Energy density", means: "Energy per outer volume, Wh/L (volumetric energy density).", at: "place" },
  { term: "Form factor", means: "Diameter and height of the can.", at: "size" },
  { term: "Gasket", means: "The seal between cap assembly and can; it insulates the poles from each other.", at: "part" },
  { term: "Internal resistance", means: "Drop of the cell voltage per current. It depends on pulse length, state of charge and temperature.", at: "current" },
  { term: "Irreversible capacity", means: "Charge of the first cycle that does not come back, mostly lithium bound in films on the anode.", at: "figures" },
  { term: "Jelly roll", means: "Cathode, anode and two separators, wound together.", at: "roll" },
  { term: "Least squares", means: "The fit that makes the weighted squares of all residuals together the smallest.", at: "readings" },
  { term: "Leverage", means: "How much a reading decides its own prediction, from 0 to 1.", at: "readings" },
  { term: "Monte Carlo", means: "Many trials: in each, every uncertain entry takes a random value from its distribution, and the figures of all trials form the distribution of the result.", at: "sure" },
  { term: "N/P ratio", means: "Reversible areal capacity of the anode over that of the cathode, facing each other. Below 1 lithium metal can plate.", at: "figures" },
  { term: "Open-circuit voltage", means: "Voltage at rest, with no current.", at: "discharge" },
  { term: "Outlier", means: "A reading further from the others than chance explains, by a stated test.", at: "readings" },
  { term: "Pareto front", means: "The designs of which none is better in one figure without being worse in another (command line: roulade optimise).", at: "place" },
  { term: "Porosity", means: "Share of a coating's volume that is not solid; the electrolyte fills it." },
  { term: "Sensitivity", means: "How much of a figure's variance comes from each entry: first-order and total index.", at: "sure" },
  { term: "Shapley value", means: "Contribution of a change: the mean of what it brings over all orders in which the changes could be made.", at: "part" },
  { term: "Specific energy", means: "Energy per mass, Wh/kg (gravimetric energy density).", at: "place" },
  { term: "Tabless", means: "Without tabs: the whole edge of the foil carries the current (continuous edge), so its way along the foil is short.", at: "current" },
  { term: "Tear-down", means: "Opening a cell to read its parts. Hazardous, and work for trained people.", at: "readings" },
  { term: "Uncertainty", means: "± is one standard uncertainty; twice that holds the figure with about 95 %.", at: "sure" },
  { term: "Void height", means: "Free height above the jelly roll (headspace), room for gas." },
];

/** The place of a term, for links to it. */
const idOf = (term: string): string => `term-${term.toLowerCase().replaceAll(/\W+/g, "-")}`;

export function glossary(page: Page): TemplateResult {
  return html`<dl class="glossary">${TERMS.map(
    ({ term, means, at }) => html`<div id=${idOf(term)} tabindex="-1"><dt>${term}</dt><dd>${means}${at ? html` <button type="button" class="plain" aria-label="see where ${term} is at work" @click=${() => page.open(at)}>see</button>` : nothing}</dd></div>`,
  )}</dl>`;
}

/** Text in which terms of the glossary lead to it, each once. */
export function withTerms(page: Page, text: string): unknown[] {
  const pieces: unknown[] = [];
  let rest = text;
  const seen = new Set<string>();
  for (;;) {
    const found = TERMS.filter(({ term }) => !seen.has(term))
      .map(({ term, means }) => ({ term, means, at: new RegExp(`\\b${term.replace("/", "\\/")}`, "i").exec(rest)?.index ?? -1 }))
      .filter(({ at }) => at >= 0)
      .sort((a, b) => a.at - b.at)[0];
    if (!found) return [...pieces, rest];
    const { term, means, at } = found;
    seen.add(term);
    const go = (event: Event): void => {
      event.preventDefault();
      page.state.shown.chapters.add("glossary");
      page.focusOn(`#${idOf(term)}`);
    };
    pieces.push(rest.slice(0, at), html`<a class="term" href="#${idOf(term)}" title=${means} @click=${go}>${rest.slice(at, at + term.length)}</a>`);
    rest = rest.slice(at + term.length);
  }
}
