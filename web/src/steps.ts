/**
 * The work in its steps, in the order in which they are asked for. Sheets are changed by the model and by nobody else, one change
 * after another; whatever else is done waits for the changes before it. Each step can be undone.
 */
import type { Side } from "./entry";
import { keep } from "./keep";
import type { Answer, Changed, ChangeQuestion, Edit, Problem } from "./model/contract";
import type { Work } from "./state";
import { Timeline } from "./timeline";

export interface Change {
  edits: Partial<Record<Side, Edit[]>>;
  what: string;
  /** Joins changes that follow one another to one step, such as letters typed into one field. */
  key?: string;
  /** The edits begin at the sheets before the step, as those of a hand that moves; otherwise at the sheets as they stand. */
  afresh?: boolean;
  /** What changes beside the sheets. */
  to?: Partial<Work>;
  /** The text that was typed and its place: shown and kept until the sheet has it. */
  typed?: { place: string; text: string };
}

/** Who is told what became of a change. */
interface Listener {
  /** A change has come, or was made: other texts wait. */
  waits: () => void;
  made: (sheets: Pick<Work, "first" | "second">, answer: Changed["answer"]) => void;
  refused: (change: Change, problems: Problem[]) => void;
}

export class Steps {
  #timeline: Timeline<Work>;
  #queue: (Change | (() => void))[] = [];
  /** What was typed and could not be made, because the model stopped: until its field, or all of the work, is another. */
  #unmade: Change[] = [];
  /** What the model is asked to make. */
  #asked: Change | null = null;
  #working = false;

  constructor(
    begin: Work,
    private readonly ask: (question: ChangeQuestion) => Promise<Answer<Changed> | null>,
    private readonly listener: Listener,
  ) {
    this.#timeline = new Timeline(begin);
  }

  /** The first of all steps: there is nothing before it. */
  begin(work: Work): void {
    this.#timeline = new Timeline(work);
    this.#unmade = [];
  }

  /** Changes of typed texts that the sheets do not have. */
  get typed(): Change[] {
    return [...this.#unmade, ...this.waiting.filter(({ typed }) => typed)];
  }

  /** The work is another: what could not be made before is of no use there. */
  forget(): void {
    this.#unmade = [];
    this.listener.waits();
  }

  /** Changes that are yet to be made. */
  get waiting(): Change[] {
    return [...(this.#asked ? [this.#asked] : []), ...this.#queue.filter((one) => typeof one === "object")];
  }

  /** The work as it stands once no change waits. */
  get now(): Work {
    return this.#timeline.now;
  }

  get at(): number {
    return this.#timeline.at;
  }

  get undoes(): string | null {
    return this.waiting.at(-1)?.what ?? this.#timeline.undoes;
  }

  get redoes(): string | null {
    return this.waiting.length > 0 ? null : this.#timeline.redoes;
  }

  /** Asks for a change; of those of one step that wait only the last is made. */
  change(change: Change): void {
    const last = this.#queue.at(-1);
    if (change.key && typeof last === "object" && last.key === change.key) this.#queue.pop();
    this.#unmade = this.#unmade.filter(({ typed }) => typed?.place !== change.typed?.place);
    this.#queue.push(change);
    this.listener.waits();
    void this.#work();
  }

  /** Runs once all changes before are made: at once where none waits. */
  after(run: () => void): void {
    if (!this.#working) return run();
    this.#queue.push(run);
  }

  /** Resolves once all changes before are made. */
  settled(): Promise<void> {
    return new Promise((resolve) => this.after(resolve));
  }

  /** A step that needs no model; called in its turn, within [`after`](#after). */
  record(to: Partial<Work>, what: string, key = ""): void {
    this.#timeline.record({ ...this.#timeline.now, ...to }, what, key);
  }

  /** What is typed next is a step of its own. */
  rest(): void {
    this.after(() => this.#timeline.rest());
  }

  /** The work before the last step, where there is one, and the words for it. */
  undo(words: string): [work: Work | null, said: string] {
    const what = this.#timeline.undoes;
    return [this.#timeline.undo(), `${words}: ${what}.`];
  }

  /** The work after the step that was undone last, and the words for it. */
  redo(words: string): [work: Work | null, said: string] {
    const what = this.#timeline.redoes;
    return [this.#timeline.redo(), `${words}: ${what}.`];
  }

  go(place: number): Work | null {
    return this.#timeline.go(place);
  }

  async #work(): Promise<void> {
    if (this.#working) return;
    this.#working = true;
    try {
      for (let next = this.#queue.shift(); next; next = this.#queue.shift()) {
        if (typeof next === "function") next();
        else await this.#make(next);
      }
    } finally {
      this.#working = false;
    }
  }

  async #make(change: Change): Promise<void> {
    const { edits, what, key = "", afresh, to } = change;
    const { first, second } = afresh ? this.#timeline.before(key) : this.#timeline.now;
    this.#asked = change;
    const answer = await this.ask({ first, ...(second && { second }), edits });
    this.#asked = null;
    if (answer && "ok" in answer) {
      const made = { first: keep(first, answer.ok.first), second: answer.ok.second ? keep(second, answer.ok.second) : null };
      this.record({ ...to, ...made }, what, key);
      this.listener.made(made, answer.ok.answer);
    } else {
      if (change.typed) this.#unmade.push(change);
      this.listener.refused(change, answer?.problems ?? []);
    }
    this.listener.waits();
  }
}
