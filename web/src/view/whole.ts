/** The page from top to bottom. A block is made anew only when something that it shows has changed. */
import { html, type TemplateResult } from "lit-html";
import { guard } from "lit-html/directives/guard.js";
import type { Page } from "../page";
import type { LongKind } from "../model/contract";
import { estimateOf, type State } from "../state";
import { answer } from "./answer";
import { assumptions } from "./assumptions";
import { cautions, foot } from "./cautions";
import { bench } from "./bench";
import { claim } from "./claim";
import { curve } from "./curve";
import { elements } from "./elements";
import { figures, moreFigures } from "./figures";
import { files, messages } from "./files";
import { ledger } from "./ledger";
import { path } from "./path";
import { reclaim } from "./reclaim";
import { roll } from "./roll";
import { section } from "./section";
import { sheet } from "./sheet";
import { sizes } from "./sizes";
import { spread } from "./spread";
import { start } from "./start";
import { worth } from "./worth";
import { without } from "./without";

export function whole(page: Page): TemplateResult {
  const { state } = page;
  const { shown, result, first, second } = state;
  const [one, two] = [estimateOf(state, "first"), estimateOf(state, "second")];
  const comparison = result?.kind === "two" ? result.comparison : null;
  const freed = comparison?.freed;
  const names = `${first.cell}\n${second?.cell}`;
  const of = (view: (page: Page) => unknown, ...shows: unknown[]): unknown => guard([names, ...shows], () => view(page));
  const picture = (view: (page: Page) => unknown, id: string, ...shows: unknown[]): unknown => of(view, shown.open.has(id), shown.narrow, ...shows);
  return html`${of(start, state.point)}
    <main>
      ${of(messages, state.messages)}${of(answer, state.busy, state.problems, comparison?.answer, one?.answer)}
      <div class="pair wide-left">${picture(section, "section", one?.section, two?.section, freed)}
        <div>${of(figures, comparison?.figures, one?.headline, two?.headline)}${of(reclaim, comparison?.reclaim, freed)}</div></div>
      <div class="pair">${picture(roll, "roll", one?.roll, two?.roll, shown.roll)}
        <div>${of(without, first.parts, second === null, shown.reclaim, shown.reclaimProblem)}${of(files, first, second, state.said, state.claim, state.bench, ...studied(state, "report"))}</div></div>
      ${of(worth, first, second, state.changes, state.prices, shown.merit, shown.narrow, shown.open.has("worth-picture"), ...studied(state, "worth"))}
      ${of(moreFigures, comparison?.figures, one?.tables, two?.tables)}
      ${of(sheet, first, second, one?.inputs, two?.inputs, result?.asked.first, result?.asked.second, state.problems, state.draft, state.materials, shown.filter, shown.added, shown.open.has("materials"))}
      ${of(ledger, comparison?.ledger, one?.ledger, two?.ledger, shown.sort)}${of(elements, comparison?.elements, one?.elements, two?.compositions)}${picture(curve, "curve", one?.curve, two?.curve, shown.electrodes)}
      ${of(path, comparison?.path, one?.path, two?.path)}
      ${of(claim, first, second, state.claim, shown.narrow, shown.open.has("claim-picture"), ...studied(state, "claim"))}
      ${of(bench, first, second, state.bench, shown.narrow, shown.open.has("bench-picture"), ...studied(state, "reconcile", "next"))}
      ${of(spread, first, second, one?.headline, shown.leaning, ...studied(state, "sampled", "leaning"))}
      ${of(sizes, first, one?.inputs, state.sizes, state.materials, shown.place, shown.narrow, shown.open.has("sizes-picture"), ...studied(state, "map", "sweep"))}
      <div class="pair">${of(assumptions, one?.inputs, two?.inputs, one?.remarks, two?.remarks)}${of(cautions, one?.cautions, two?.cautions)}</div>
    </main>
    ${of(foot, one?.roulade)}`;
}

/** All of a kind of long work that can be seen. */
const studied = ({ studies }: State, ...kinds: LongKind[]): unknown[] =>
  kinds.flatMap((kind) => [studies[kind].share, studies[kind].answer, studies[kind].problems, studies[kind].stopped]);
