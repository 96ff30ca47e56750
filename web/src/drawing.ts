/** When the page is drawn: in the next frame, once, however often it is asked for; what is out of sight soon after. */

/** An answer mostly comes within a frame, and drawing before it would only delay it. */
const WITHOUT_ANSWER_AFTER_MS = 60;
/** What is out of sight follows once the hand rests. */
const REST_AFTER_MS = 60;

export class Drawing {
  /** Whether only what is in sight is drawn, and whether something out of sight was left as it was. */
  hurried = false;
  behind = false;
  #frame = 0;
  #rest = 0;
  #waiting = 0;
  #focus: string | null = null;

  constructor(
    private readonly render: () => void,
    /** Whether a change is yet to be made: what is to have the focus may come with it. */
    private readonly changes: () => boolean,
  ) {}

  draw(): void {
    if (this.#frame) return;
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0;
      this.behind = false;
      // What is to have the focus may be out of sight.
      this.hurried = this.#focus === null;
      this.render();
      this.hurried = false;
      clearTimeout(this.#rest);
      if (this.behind) this.#rest = window.setTimeout(this.render, REST_AFTER_MS);
      const wanted = this.#focus && document.querySelector<HTMLElement>(this.#focus);
      if (wanted) wanted.focus();
      if (wanted || !this.changes()) this.#focus = null;
    });
  }

  /** An answer is on its way: draws with it, or without it where it takes longer. */
  soon(): void {
    clearTimeout(this.#waiting);
    this.#waiting = window.setTimeout(() => this.draw(), WITHOUT_ANSWER_AFTER_MS);
  }

  /** The answer has come. */
  now(): void {
    clearTimeout(this.#waiting);
    this.draw();
  }

  /** After the next drawing the focus goes to the first element that matches. */
  focusOn(selector: string): void {
    this.#focus = selector;
    this.draw();
  }
}
