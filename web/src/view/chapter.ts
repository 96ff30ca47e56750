/** A chapter of the page: a line that says what is in it, and its content once it is opened. */
import { html, nothing, unchanged, type TemplateResult } from "../template";
import type { Page } from "../page";

export interface Chapter {
  id: string;
  title: string;
  /** What is found in it, in the field's terms. */
  terms: string;
  view: () => unknown;
}

export function chapter(page: Page, { id, title, terms, view }: Chapter): TemplateResult {
  const { chapters, inSight } = page.state.shown;
  const open = chapters.has(id);
  const waits = page.drawing.hurried && !inSight.has(id);
  if (open && waits) page.drawing.behind = true;
  const toggle = (event: Event): void => {
    const is = (event.currentTarget as HTMLDetailsElement).open;
    if (is === chapters.has(id)) return;
    if (is) chapters.add(id);
    else chapters.delete(id);
    if (is) inSight.add(id);
    page.draw();
  };
  return html`<details class="chapter" id="chapter-${id}" data-chapter=${id} ?open=${open} @toggle=${toggle}>
    <summary><h2>${title}</h2><small>${terms}</small></summary>
    <div class="content">${open ? (waits ? unchanged : view()) : nothing}</div>
  </details>`;
}

/** The chapters, to go to by name. */
export function contents(page: Page, list: Chapter[]): TemplateResult {
  const go = (id: string) => (event: Event): void => {
    event.preventDefault();
    page.open(id);
    document.querySelector(`#chapter-${id}`)?.scrollIntoView();
  };
  const toSheet = (event: Event): void => {
    event.preventDefault();
    document.querySelector("#sheet")?.scrollIntoView();
  };
  return html`<nav class="contents" aria-label="Contents"><a href="#sheet" @click=${toSheet}>Entries</a>${list.map(({ id, title }) => html`<a href="#chapter-${id}" @click=${go(id)}>${title}</a>`)}</nav>`;
}
