/** The head of the page: its name and the starting points. */
import { html, type TemplateResult } from "lit-html";
import { POINTS } from "../demo";
import type { Page } from "../page";

export function start(page: Page): TemplateResult {
  return html`<header class="head">
    <h1>Roulade <span>what is wound in a cylindrical cell, and what each part of it costs</span></h1>
    <nav aria-label="Starting points">
      <ul class="points">
        ${POINTS.map(
          ({ id, question, about }) => html`<li>
            <button type="button" data-start=${id} aria-pressed=${page.state.point === id ? "true" : "false"} @click=${() => page.start(id)}>
              <b>${question}</b><small>${about}</small>
            </button>
          </li>`,
        )}
      </ul>
    </nav>
  </header>`;
}
