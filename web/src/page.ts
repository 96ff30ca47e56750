/** What can be done on the page. Each action changes the state, asks the model at once and draws the page in the next frame. */
import { inWords, wordsOf } from "./complaints";
import { begun, DEMOS, USUAL_START } from "./demo";
import { Drawing } from "./drawing";
import { keyOf } from "./edits";
import { partsOf, type Side } from "./entry";
import { keep } from "./keep";
import { addressOf, isState, linkedOf, textOf, workFrom } from "./link";
import { Model } from "./model/client";
import type { Changed, Edit, Hold, Problem, Sheet } from "./model/contract";
import { Jobs } from "./model/jobs";
import { textFromFile } from "./read";
import { begin, questionOf, sheetOf, type Shown, type State, type Task, type Work, workOf, workOn } from "./state";
import { type Change, Steps } from "./steps";
import { keepHere, keepWaiting, keptInTab, keptLast } from "./store";

const LINK_AFTER_MS = 300;
/** Chapters of a report: what it is, what it holds, what it rests on. */
const ON_PAPER = ["figures", "assumed"];
/** Tells the steps of this visit from those of another that the browser's history still holds. */
const VISIT = `${Date.now()}.${Math.random()}`;

export class Page {
  state: State;
  readonly jobs: Jobs;
  /** Work of an earlier visit that this browser has kept. */
  earlier: { work: Work; waiting: unknown[] } | null = null;
  readonly drawing: Drawing;
  #steps: Steps;
  #link = 0;
  /** Whether this browser holds work of this visit, to which what waits could be added. */
  #kept = false;
  #beforePrint: Pick<Shown, "chapters" | "sections"> | null = null;

  constructor(
    private readonly model: Model,
    /** The whole model, for short questions that the small one does not know. */
    readonly full: Model,
    startWhole: () => Promise<Worker>,
    private readonly render: (page: Page) => void,
  ) {
    this.state = begin(begun(USUAL_START), null);
    this.drawing = new Drawing(() => render(this), () => this.#steps.waiting.length > 0);
    this.jobs = new Jobs(startWhole, this.state.studies, () => this.draw());
    this.#steps = new Steps(workOf(this.state), (change) => full.ask({ change }), { waits: () => this.#waits(), made: (sheets, answer) => this.#made(sheets, answer), refused: (change, problems) => this.#refused(change, problems) });
  }

  draw(): void {
    this.drawing.draw();
  }

  /** Opens what belongs on paper and draws it at once, since printing does not wait; or puts it back. */
  print(begins: boolean): void {
    const { shown } = this.state;
    if (begins) {
      this.#beforePrint = { chapters: shown.chapters, sections: shown.sections };
      shown.chapters = new Set([...[...shown.chapters].filter((id) => id !== "glossary"), ...ON_PAPER]);
      shown.sections = new Set(this.state.result?.first.inputs.map(({ section }) => section).filter((section) => section !== "Materials"));
    } else if (this.#beforePrint) Object.assign(shown, this.#beforePrint);
    this.render(this);
  }

  show(change: Partial<Shown>): void {
    Object.assign(this.state.shown, change);
    this.draw();
  }

  /** After the next drawing the focus goes to the first element that matches. */
  focusOn(selector: string): void {
    this.drawing.focusOn(selector);
  }

  /** Opens a chapter, where it is closed, and brings it into sight. */
  open(chapter: string): void {
    this.state.shown.chapters.add(chapter);
    this.state.shown.inSight.add(chapter);
    this.focusOn(`#chapter-${chapter} > summary`);
  }

  /** One of the four questions: its chapter opens, and no other stays open. */
  choose(task: Task): void {
    this.state.shown.chapters = new Set([task, "glossary"]);
    this.show({ task });
    this.open(task);
  }

  // What is undone and done again.

  get undoes(): string | null {
    return this.#steps.undoes;
  }

  get redoes(): string | null {
    return this.#steps.redoes;
  }

  undo(): void {
    this.#steps.after(() => this.#restore(...this.#steps.undo("Undone")));
  }

  redo(): void {
    this.#steps.after(() => this.#restore(...this.#steps.redo("Done again")));
  }

  /** What is typed next is a step of its own. */
  rest(): void {
    this.#steps.rest();
  }

  #restore(work: Work | null, said: string): void {
    if (!work) return;
    Object.assign(this.state, work);
    this.state.draft = null;
    this.#steps.forget();
    this.say(said);
    void this.askAgain();
    this.#keep();
  }

  /** Changes what is no sheet; `key` joins steps that follow one another, such as letters typed into one field. */
  set(to: Partial<Omit<Work, Side>>, what: string, key = ""): void {
    Object.assign(this.state, to);
    this.#steps.after(() => {
      // What was done before may have come only now.
      Object.assign(this.state, to);
      this.#steps.record(to, what, key);
      this.#keep();
    });
    this.draw();
  }

  /** Other cells, and with them nothing of the work before; the browser's back button leads back. */
  replace(by: () => Work, what: string): void {
    this.#steps.after(() => {
      // What is left must know where it was left.
      history.replaceState({ visit: VISIT, at: this.#steps.at }, "", location.href);
      Object.assign(this.state, by());
      this.jobs.clear();
      this.#steps.forget();
      this.state.draft = null;
      this.state.said = "";
      this.state.messages = [];
      Object.assign(this.state.shown, { added: [], roll: null, place: null, reclaimProblem: "", cursor: {} });
      this.#steps.record(workOf(this.state), what);
      history.pushState({ visit: VISIT, at: this.#steps.at }, "", location.href);
      void this.askAgain();
      this.#keep();
    });
  }

  /** Changes sheets: the model makes the edits, so that correlations, names and what was made from what follow. */
  change(change: Change): void {
    Object.assign(this.state, change.to);
    this.state.busy = true;
    this.#steps.change(change);
    this.drawing.soon();
  }

  edit(side: Side, edits: Edit[], what: string): void {
    this.change({ edits: { [side]: edits }, what });
  }

  /** Sheets that the model gave before, in the place of those that stand. */
  goBack(sheets: Partial<Pick<Work, Side>>, what: string): void {
    this.#steps.after(() => {
      this.#steps.record(sheets, what);
      this.#restore(this.#steps.now, "");
    });
  }

  load(side: Side, sheet: Sheet): void {
    this.replace(() => workOn({ first: this.state.first, second: this.state.second, [side]: sheet }), `loading ${sheet.cell ?? "a sheet"}`);
  }

  demo(id: string): void {
    const demo = DEMOS.find((one) => one.id === id);
    if (demo) this.replace(() => ({ ...workOn(demo.cells()), demo: id }), "the invented cells");
  }

  alone(): void {
    this.replace(() => workOn({ first: this.state.first, second: null }), "the first cell alone");
  }

  /** A copy of the first cell as the second, to be changed by hand. */
  async copy(): Promise<void> {
    await this.#steps.settled();
    const { first } = this.state;
    const name = first.cell || "a cell";
    // What the copy does not change is then one quantity with one uncertainty, not two.
    const edits = { first: [{ set: "cell", to: name }], second: [{ set: "cell", to: `${name}, changed` }, { set: "made_from", to: name }] };
    const answer = await this.full.ask({ change: { first, second: first, edits } });
    if (answer && "ok" in answer) this.replace(() => workOn({ first: answer.ok.first, second: answer.ok.second ?? null }), "a copy to change");
  }

  swap(): void {
    this.replace(() => {
      const { first, second } = this.state;
      return workOn({ first: second ?? first, second: second && first });
    }, "swapping the cells");
  }

  takeOut(side: Side, at: number): void {
    const sheet = sheetOf(this.state, side);
    const part = sheet && partsOf(sheet)[at];
    if (!part) return;
    const removed = { ...this.state.removed, [side]: [...this.state.removed[side], { part, at }] };
    this.change({ edits: { [side]: [{ remove: keyOf(sheet, `parts[${at}]`) }] }, what: `taking out ${part.name}`, to: { removed } });
    this.focusOn(`[data-back="${side}"]`);
  }

  putBack(side: Side): void {
    const back = this.state.removed[side].at(-1);
    if (!back) return;
    const removed = { ...this.state.removed, [side]: this.state.removed[side].slice(0, -1) };
    this.change({ edits: { [side]: [{ add: "parts", item: back.part, at: back.at }] }, what: `putting back ${back.part.name}`, to: { removed } });
    this.focusOn(`[data-place="${side}.parts[${back.at}].name"]`);
  }

  /** The name of a cell; a sheet that was made from the first one's goes on saying so. */
  rename(side: Side, cell: string): void {
    const { first, second } = this.state;
    const follows = side === "first" && second?.made_from !== undefined && second.made_from === first.cell;
    this.change({ edits: { ...(follows && { second: [{ set: "made_from", to: cell }] }), [side]: [{ set: "cell", to: cell }] }, what: "a cell's name", key: `${side}.cell` });
  }

  /** The first cell against itself without one part; the second sheet becomes the one that the model makes of it. */
  async compareWithout(part: string, reclaim: string): Promise<void> {
    await this.#steps.settled();
    const first = this.state.first;
    this.show({ reclaim, reclaimProblem: "" });
    const answer = await this.full.ask({ without: { sheet: first, part, reclaim } });
    if (!answer || this.state.first !== first) return;
    if ("ok" in answer) return this.replace(() => workOn({ first, second: answer.ok.sheet }), `the cell without ${part}`);
    for (const { place, text } of answer.problems) {
      if (place === "reclaim") this.show({ reclaimProblem: text.replace(`${place}: `, "") });
      else this.tell(`The cell without this part: ${text}.`);
    }
  }

  /** The first cell's design in another can, as the second cell. */
  async resize(diameter: string, height: string, hold: Hold): Promise<void> {
    await this.#steps.settled();
    const first = this.state.first;
    const answer = await this.full.ask({ resize: { sheet: first, diameter, height, hold } });
    if (!answer || this.state.first !== first) return;
    if ("problems" in answer) for (const { text } of answer.problems) this.tell(`The cell in that can: ${text}.`);
    else {
      this.replace(() => ({ ...workOn({ first, second: answer.ok }), sizes: this.state.sizes }), `the cell as ${diameter} × ${height}`);
      this.focusOn("#answer");
    }
  }

  /** Texts that wait are shown in their fields, and kept: a reload may come before the model's answer. */
  #waits(): void {
    const { typed } = this.#steps;
    this.state.waiting = Object.fromEntries(typed.map((one) => [one.typed?.place, one.typed?.text]));
    this.state.busy = this.#steps.waiting.length > 0;
    if (typed.length > 0 && !this.#kept) this.#keepState();
    keepWaiting(typed);
  }

  #made(sheets: Pick<Work, Side>, answer: Changed["answer"]): void {
    Object.assign(this.state, sheets);
    this.#answered(answer);
    this.#keep();
  }

  #refused({ afresh, to }: Change, problems: Problem[]): void {
    if (to) Object.assign(this.state, Object.fromEntries(Object.entries(this.#steps.now).filter(([key]) => key in to)));
    // A hand that moves passes over what cannot be; a press of a button is answered.
    if (!afresh) for (const { text } of problems) this.tell(`That change: ${text}.`);
    this.draw();
  }

  async file(side: Side, file: File): Promise<void> {
    try {
      const read = await this.model.ask({ sheet: await textFromFile(file) });
      if (!read) return;
      if ("problems" in read) throw new Error(`cannot be read: ${inWords(read.problems)}`);
      this.load(side, read.ok);
      this.say(`${file.name} loaded.`);
    } catch (error) {
      this.tell(`“${file.name}” ${wordsOf(error)}. Nothing was changed.`);
    }
  }

  /** The work that the address or this browser holds, where there is any. */
  async begin(): Promise<void> {
    const kept = keptInTab();
    const hash = location.hash;
    if (kept?.hash === hash && (isState(hash) || hash === "")) {
      const read = await this.model.ask({ work: JSON.stringify(kept.state) });
      if (read && "ok" in read) {
        this.#first(workFrom(read.ok));
        return this.#again(kept.waiting);
      }
      // What was kept cannot be read: the address says what there is.
    }
    const last = keptLast();
    if (last && !isState(hash)) void this.#offer(JSON.stringify(last.state), last.waiting);
    await this.follow(hash, true);
    if (!isState(hash)) this.#first(workOf(this.state));
  }

  /** Offers the work of an earlier visit, where it can be read. */
  async #offer(work: string, waiting: unknown[]): Promise<void> {
    const read = await this.model.ask({ work });
    if (!read || !("ok" in read)) return;
    this.earlier = { work: workFrom(read.ok), waiting };
    this.draw();
  }

  /** Goes on with the work that an earlier visit left. */
  goOn(): void {
    if (!this.earlier) return;
    const { work, waiting } = this.earlier;
    this.earlier = null;
    this.replace(() => work, "the work of an earlier visit");
    this.#again(waiting);
  }

  /** Asks again for changes that an earlier visit was left with; the model says what is wrong with them. */
  #again(waiting: unknown[]): void {
    for (const one of waiting as Change[]) if (one?.edits) this.change(one);
  }

  /** The work a visit begins with: there is nothing before it. */
  #first(work: Work): void {
    Object.assign(this.state, work);
    this.#steps.begin(workOf(this.state));
    history.replaceState({ visit: VISIT, at: this.#steps.at }, "", location.href);
  }

  /** Loads the state in the address, if there is one. */
  async follow(hash: string, first = false): Promise<void> {
    if (/^#demo(-\w+)?$/.test(hash)) return this.demo(hash.slice("#demo-".length) || "part");
    if (!isState(hash)) return;
    try {
      const read = await this.model.ask({ work: await textOf(hash) });
      if (!read) return;
      if ("problems" in read) throw new Error(`cannot be read: ${inWords(read.problems)}`);
      const work = workFrom(read.ok);
      if (first) this.#first(work);
      else this.replace(() => work, "following a link");
    } catch (error) {
      this.tell(`The link ${wordsOf(error)}. The cells shown are not from the link.`);
    }
  }

  /** The browser's back and forward buttons, and addresses typed or followed. */
  async moved(merged: unknown): Promise<void> {
    const { visit, at } = (merged ?? {}) as { visit?: string; at?: number };
    await this.#steps.settled();
    const work = visit === VISIT && at !== undefined ? this.#steps.go(at) : null;
    if (work) return this.#restore(work, "Back to the cells as they were.");
    await this.follow(location.hash);
  }

  /** The reconciled sheet in the place of the one that the readings were held against. */
  accept(side: Side, sheet: Sheet): void {
    const { bench, sizes } = this.state;
    this.replace(() => ({ ...workOn({ first: this.state.first, second: this.state.second, [side]: sheet }), bench, sizes }), "taking the reconciled sheet");
    this.say("The reconciled sheet was taken.");
    this.focusOn("#answer");
  }

  /** Words that stay until they are closed. */
  tell(message: string): void {
    if (!this.state.messages.includes(message)) this.state.messages = [...this.state.messages, message];
    this.draw();
  }

  close(message: string): void {
    this.state.messages = this.state.messages.filter((one) => one !== message);
    this.draw();
  }

  /** A short word on what was just done. */
  say(said: string): void {
    this.state.said = said;
    this.draw();
  }

  /** Resolves once the answer is there, or a newer question has taken its place. */
  askAgain(): Promise<void> {
    this.drawing.soon();
    return this.#askModel();
  }

  /** In this browser at once, in the address a moment later. */
  #keep(): void {
    this.#keepState();
    clearTimeout(this.#link);
    this.#link = window.setTimeout(async () => {
      history.replaceState({ visit: VISIT, at: this.#steps.at }, "", await addressOf(this.state));
      this.#keepState();
    }, LINK_AFTER_MS);
  }

  #keepState(): void {
    keepHere(location.hash, linkedOf(this.state));
    this.#kept = true;
  }

  async #askModel(): Promise<void> {
    const { first, second } = this.state;
    this.state.busy = true;
    const answer = await this.model.ask(questionOf(this.state));
    // Sheets that were changed since have an answer of their own.
    if (!answer || this.state.first !== first || this.state.second !== second) return;
    this.state.busy = this.#steps.waiting.length > 0;
    this.#answered(answer);
  }

  /** What the model says of the sheets as they stand. */
  #answered(answer: Changed["answer"]): void {
    const { first, second, result: old } = this.state;
    if ("problems" in answer) this.state.problems = answer.problems;
    else {
      this.state.problems = [];
      const merged = keep(old?.kind === "two" ? old.comparison : old?.first, answer.ok);
      this.state.result =
        "first" in merged && second
          ? { kind: "two", comparison: merged, first: merged.first, second: merged.second, asked: { first, second } }
          : { kind: "one", first: merged as Exclude<typeof merged, { second: unknown }>, asked: { first, second: null } };
    }
    this.drawing.now();
  }
}
