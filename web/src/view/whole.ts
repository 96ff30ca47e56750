/** The page from top to bottom. */
import { html, type TemplateResult } from "lit-html";
import type { Page } from "../page";
import { answer } from "./answer";
import { assumptions } from "./assumptions";
import { cautions, foot } from "./cautions";
import { curve } from "./curve";
import { figures, moreFigures } from "./figures";
import { files, messages } from "./files";
import { ledger } from "./ledger";
import { reclaim } from "./reclaim";
import { roll } from "./roll";
import { section } from "./section";
import { sheet } from "./sheet";
import { start } from "./start";
import { without } from "./without";

export function whole(page: Page): TemplateResult {
  return html`${start(page)}
    <main>
      ${messages(page)}${answer(page)}
      <div class="pair wide-left">${section(page)}
        <div>${figures(page)}${reclaim(page)}</div></div>
      <div class="pair">${roll(page)}
        <div>${without(page)}${files(page)}</div></div>
      ${moreFigures(page)}${sheet(page)}${ledger(page)}${curve(page)}
      <div class="pair">${assumptions(page)}${cautions(page)}</div>
    </main>
    ${foot(page)}`;
}
