/** The page from top to bottom. A block is made anew only when something that it shows has changed. */
import { guard, html, type TemplateResult } from "../template";
import type { LongKind } from "../model/contract";
import type { Page } from "../page";
import type * as Later from "./later";
import { estimateOf, isStale, type State } from "../state";
import { answer, bar, comesFrom } from "./answer";
import { cautions, foot } from "./cautions";
import { chapter, contents, type Chapter } from "./chapter";
import { plies } from "./grips";
import { closeup, section } from "./section";
import { sheet } from "./sheet";
import { begin, messages, start, tools } from "./start";

let later: typeof Later | null = null;

/** Fetches the chapters that the first screen does without. */
export async function fetchLater(): Promise<void> {
  later = await import("./later");
}

/** A view of those, or that it is on its way. */
const fetched = (name: keyof typeof Later) => (page: Page): unknown => (later ? later[name](page) : html`<p class="quiet">One moment.</p>`);

export function whole(page: Page): TemplateResult {
  const { state } = page;
  const { shown, result, first, second } = state;
  const [one, two] = [estimateOf(state, "first"), estimateOf(state, "second")];
  const comparison = result?.kind === "two" ? result.comparison : null;
  const freed = comparison?.freed;
  const names = `${first.cell}\n${second?.cell}`;
  const of = (view: (page: Page) => unknown, ...shows: unknown[]): unknown => guard([names, later, ...shows], () => view(page));
  const picture = (view: (page: Page) => unknown, id: string, ...shows: unknown[]): unknown => of(view, shown.open.has(id), shown.narrow, shown.cursor[id], ...shows);
  const sight = (id: string): boolean => shown.inSight.has(id);

  const chapters: Chapter[] = [
    { id: "part", title: "What removing a part buys", terms: "freed height and volume · energy density gained · contribution of each change · crimp, gasket, plates, tabs", view: () => html`
        ${of(fetched("without"), first.parts, second === null, shown.reclaim, shown.reclaimProblem)}${of(fetched("reclaim"), comparison?.reclaim, freed, state.studies.attribute.answer)}${picture(closeup, "closeup", one?.section, two?.section, freed)}
        ${of(fetched("contributions"), first, second, state.changes, state.prices, shown.merit, sight("part"), shown.open.has("contributions-picture"), shown.narrow, ...studied(state, "attribute"))}` },
    { id: "size", title: "Form factors and sweeps", terms: "energy density over diameter and height · heat path · internal resistance · sweep of any entry", view: () =>
        of(fetched("sizes"), first, one?.inputs, state.sizes, state.materials, shown.place, shown.narrow, sight("size"), shown.cursor, shown.open.has("sizes-picture"), ...studied(state, "map", "sweep")) },
    { id: "lesson", title: "Five explorations", terms: "for newcomers: size · walls · thick coatings · silicon · tabs or tabless", view: () =>
        of(fetched("lesson"), shown.lesson, shown.foreseen, shown.levers, shown.cursor, shown.narrow, shown.open.has("lesson-picture"), state.materials, sight("lesson"), ...studied(state, "lesson")) },
    { id: "claim", title: "Declared figures, checked", terms: "Wh/L, Wh/kg, Ah against one another and against the prediction · what would have to be true", view: () =>
        of(fetched("claim"), first, second, state.claim, shown.narrow, shown.cursor["claim-picture"], shown.open.has("claim-picture"), ...studied(state, "claim")) },
    { id: "readings", title: "Readings of a bench or tear-down", terms: "least squares · outliers · leverage · most informative next measurement", view: () =>
        of(fetched("bench"), first, second, state.bench, shown.narrow, shown.grid, state.readable, sight("readings"), shown.cursor["bench-picture"], shown.open.has("bench-picture"), ...studied(state, "reconcile", "next")) },
    { id: "mass", title: "Where grams and cubic centimetres go", terms: "jelly roll · current collectors · electrolyte · can · ledger · elements", view: () => html`
        ${picture(fetched("budget"), "budget", one?.ledger, two?.ledger)}${of(fetched("ledger"), comparison?.ledger, one?.ledger, two?.ledger, shown.sort)}${of(fetched("elements"), comparison?.elements, one?.elements, two?.compositions)}` },
    { id: "figures", title: "All figures", terms: "lengths · turns · N/P ratio · irreversible capacity · anode thickness increase", view: () => html`
        ${of(fetched("figures"), comparison?.figures, one?.headline, two?.headline)}${of(fetched("moreFigures"), comparison?.figures, one?.tables, two?.tables)}` },
    { id: "discharge", title: "Voltage against capacity", terms: "open-circuit voltage · C-rate · a measured discharge laid over it", view: () =>
        picture(fetched("curve"), "curve", one?.curve, two?.curve, shown.electrodes, state.discharge) },
    { id: "current", title: "Internal resistance", terms: "current path, element by element · heat · tabs or continuous edge (tabless)", view: () => of(fetched("path"), comparison?.path, one?.path, two?.path) },
    { id: "place", title: "Energy density against specific energy", terms: "both cells, the common sizes, the invented cells", view: () =>
        picture(fetched("place"), "place", first, second, one?.headline, two?.headline, sight("place"), ...studied(state, "map")) },
    { id: "sure", title: "How sure the figures are", terms: "Monte Carlo · sensitivity · contributions to variance", view: () =>
        of(fetched("spread"), first, second, one?.headline, shown.sensitivity, sight("sure"), shown.cursor, shown.open.has("tornado"), shown.open.has("histogram"), shown.narrow, ...studied(state, "sampled", "sensitivity")) },
    { id: "roll", title: "The jelly roll", terms: "one turn across its layers · every turn across the axis", view: () => html`${picture(plies, "plies", one?.roll, two?.roll, shown.balanced, first, second)}${picture(fetched("roll"), "roll", one?.roll, two?.roll, shown.roll)}` },
    { id: "assumed", title: "Assumptions and remarks", terms: "defaults with their sources · cautions", view: () => html`${of(fetched("assumptions"), one?.inputs, two?.inputs, one?.remarks, two?.remarks)}` },
    { id: "files", title: "Files, link, report", terms: "sheets in and out · second cell · print", view: () => of(fetched("files"), first, second, state.claim, state.bench, state.said, ...studied(state, "report")) },
    { id: "glossary", title: "Glossary", terms: "the trade's terms", view: () => of(fetched("glossary")) },
  ];
  // The question that was asked comes first.
  const order = [...chapters.filter(({ id }) => id === shown.task), ...chapters.filter(({ id }) => id !== shown.task)];
  useSensitivity(page);

  return html`${of(start, shown.task)}
    ${of(bar, result, state.problems)}
    <main class=${isStale(state) ? "past" : result || state.problems.length ? "" : "awaited"}>
      <div class="view">${of(answer, state.busy, state.problems, result)}${picture(section, "section", one?.section, two?.section, freed, shown.held, first, second)}${of(comesFrom, result)}</div>
      <div class="hand">
        ${of(tools, page.undoes, page.redoes, state.said)}${of(messages, state.messages)}
        ${of(begin, first, second, state.hosts, state.known, page.earlier)}
        ${contents(page, order)}
        ${order.filter(({ id }) => id === shown.task).map((one) => chapter(page, one))}
        ${of(sheet, first, second, one?.inputs, two?.inputs, state.problems, state.draft, state.waiting, state.removed, state.materials, state.hosts, shown.added, shown.filter, shown.search, [...shown.sections].join(), shown.open.has("materials"), state.studies.sensitivity.answer)}
        ${order.filter(({ id }) => id !== shown.task).map((one) => chapter(page, one))}
        ${of(cautions, one?.cautions, two?.cautions)}
      </div>
    </main>
    ${of(foot, one?.roulade)}`;
}

/** The bars beside the entries are asked for once the answer stands. */
function useSensitivity(page: Page): void {
  const { state } = page;
  if (!state.result || state.busy || state.problems.length > 0) return;
  page.jobs.want("sensitivity", { sheet: state.first, ...(state.second && { second: state.second }), figure: state.shown.sensitivity });
}

/** All of a kind of long work that can be seen. */
const studied = ({ studies }: State, ...kinds: LongKind[]): unknown[] =>
  kinds.flatMap((kind) => [studies[kind].share, studies[kind].answer, studies[kind].problems, studies[kind].stopped, studies[kind].asked]);
