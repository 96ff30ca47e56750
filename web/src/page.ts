/** What can be done on the page. Each action changes the state, asks the model at once and draws the page in the next frame. */
import { begun, DEMOS, USUAL_START } from "./demo";
import { partsOf, type Side } from "./entry";
import { keep } from "./keep";
import { isState, textOf, toHash, type Linked } from "./link";
import { Model } from "./model/client";
import type { Edit, Hold, Problem, Sheet } from "./model/contract";
import { Jobs } from "./model/jobs";
import { textFromFile } from "./read";
import { begin, NO_BENCH, questionOf, sheetOf, type Shown, type State, type Task, USUAL_SIZES, type Work, workOf, workOn } from "./state";
import { keepHere, keptInTab, keptLast } from "./store";
import { Timeline } from "./timeline";

const LINK_AFTER_MS = 300;
/** An answer mostly comes within a frame, and drawing before it would only delay it. */
const DRAW_WITHOUT_ANSWER_AFTER_MS = 60;
/** Readings longer than this stay out of the link, which some programs cut short. */
export const LONGEST_IN_LINK = 20_000;
/** Chapters of a report: what it is, what it holds, what it rests on. */
const ON_PAPER = ["figures", "assumed"];
/** Tells the steps of this visit from those of another that the browser's history still holds. */
const VISIT = `${Date.now()}.${Math.random()}`;

export class Page {
  state: State;
  readonly jobs: Jobs;
  /** The whole model, for short questions that the small one does not know. */
  readonly full: Model;
  /** Work of an earlier visit that this browser has kept. */
  earlier: Linked | null = null;
  #timeline: Timeline<Work>;
  #frame = 0;
  #link = 0;
  #waiting = 0;
  #focus: string | null = null;
  #changes: { side: Side; edits: Edit[]; what: string; key: string; from: Sheet | undefined }[] = [];
  #changing = false;
  #beforePrint: Pick<Shown, "chapters" | "sections"> | null = null;

  constructor(
    private readonly model: Model,
    startWhole: () => Promise<Worker>,
    private readonly render: (page: Page) => void,
  ) {
    this.state = begin(begun(USUAL_START), null);
    this.jobs = new Jobs(startWhole, this.state.studies, () => this.draw());
    this.full = new Model(startWhole);
    this.#timeline = new Timeline(workOf(this.state));
  }

  /** Draws in the next frame, once, however often it is called. */
  draw(): void {
    if (this.#frame) return;
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0;
      this.render(this);
      if (this.#focus) document.querySelector<HTMLElement>(this.#focus)?.focus();
      this.#focus = null;
    });
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
    this.#focus = selector;
    this.draw();
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
    return this.#timeline.undoes;
  }

  get redoes(): string | null {
    return this.#timeline.redoes;
  }

  undo(): void {
    const what = this.undoes;
    this.#restore(this.#timeline.undo(), `Undone: ${what}.`);
  }

  redo(): void {
    const what = this.redoes;
    this.#restore(this.#timeline.redo(), `Done again: ${what}.`);
  }

  /** What is typed next is a step of its own. */
  rest(): void {
    this.#timeline.rest();
  }

  #restore(work: Work | null, said: string): void {
    if (!work) return;
    Object.assign(this.state, work);
    this.state.draft = null;
    this.say(said);
    this.askAgain();
    this.#keep();
  }

  /** Changes a part of the work; `key` joins steps that follow one another, such as letters typed into one field. */
  set(to: Partial<Work>, what: string, key = ""): void {
    Object.assign(this.state, to);
    this.#timeline.record(workOf(this.state), what, key);
    this.#keep();
    if ("first" in to || "second" in to) this.askAgain();
    else this.draw();
  }

  /** Other cells, and with them nothing of the work before; the browser's back button leads back. */
  replace(work: Work, what: string): void {
    // What is left must know where it was left.
    history.replaceState({ visit: VISIT, at: this.#timeline.at }, "", location.href);
    Object.assign(this.state, work);
    this.jobs.clear();
    this.state.draft = null;
    this.state.said = "";
    this.state.messages = [];
    Object.assign(this.state.shown, { added: [], roll: null, place: null, reclaimProblem: "", cursor: {} });
    this.#timeline.record(workOf(this.state), what);
    history.pushState({ visit: VISIT, at: this.#timeline.at }, "", location.href);
    this.askAgain();
    this.#keep();
  }

  edit(side: Side, change: (sheet: Sheet) => Sheet, what = "a change of the sheet", key = ""): void {
    const sheet = sheetOf(this.state, side);
    if (sheet) this.set({ [side]: change(sheet) }, what, key);
  }

  load(side: Side, sheet: Sheet): void {
    const { first, second } = this.state;
    this.replace(workOn(side === "first" ? { first: sheet, second } : { first, second: sheet }), `loading ${sheet.cell}`);
  }

  demo(id: string): void {
    const demo = DEMOS.find((one) => one.id === id);
    if (demo) this.replace({ ...workOn(demo.cells()), demo: id }, "the invented cells");
  }

  alone(): void {
    this.replace(workOn({ first: this.state.first, second: null }), "the first cell alone");
  }

  /** A copy of the first cell as the second, to be changed by hand. */
  copy(): void {
    const second = structuredClone(this.state.first);
    second.cell = `${second.cell ?? "a cell"}, changed`;
    // What the copy does not change is then one quantity with one uncertainty, not two.
    second.made_from = this.state.first.cell ?? "a cell";
    this.replace(workOn({ first: this.state.first, second }), "a copy to change");
  }

  swap(): void {
    const { first, second } = this.state;
    if (second) this.replace(workOn({ first: second, second: first }), "changing places");
  }

  takeOut(side: Side, at: number): void {
    const sheet = sheetOf(this.state, side);
    const part = sheet && partsOf(sheet)[at];
    if (!part) return;
    this.state.removed = { ...this.state.removed, [side]: [...this.state.removed[side], { part, at }] };
    this.change(side, [{ remove: `parts[${part.name}]` }], `taking out ${part.name}`);
    this.focusOn(`[data-back="${side}"]`);
  }

  putBack(side: Side): void {
    const sheet = sheetOf(this.state, side);
    const back = this.state.removed[side].at(-1);
    if (!back || !sheet) return;
    this.state.removed = { ...this.state.removed, [side]: this.state.removed[side].slice(0, -1) };
    this.change(side, [{ add: "parts", item: back.part, at: back.at }], `putting back ${back.part.name}`);
    this.focusOn(`[data-place="${side}.parts[${back.at}].name"]`);
  }

  /** The name of a cell; a sheet that was made from the first one's goes on saying so. */
  rename(side: Side, cell: string): void {
    const { first, second } = this.state;
    const follows = side === "first" && second?.made_from !== undefined && second.made_from === first.cell;
    this.set({ ...(follows && { second: { ...second, made_from: cell } }), [side]: { ...(side === "first" ? first : second), cell } }, "a cell's name", `${side}.cell`);
  }

  /** The first cell against itself without one part; the second sheet becomes the one that the model makes of it. */
  async compareWithout(part: string, reclaim: string): Promise<void> {
    const first = this.state.first;
    this.show({ reclaim, reclaimProblem: "" });
    const answer = await this.model.ask({ without: { sheet: first, part, reclaim } });
    if (!answer || this.state.first !== first) return;
    if ("ok" in answer) return this.replace(workOn({ first, second: answer.ok.sheet }), `the cell without ${part}`);
    for (const { place, text } of answer.problems) {
      if (place === "reclaim") this.show({ reclaimProblem: text.replace(`${place}: `, "") });
      else this.tell(`The cell without this part: ${text}.`);
    }
  }

  /** The first cell's design in another can, as the second cell. */
  async resize(diameter: string, height: string, hold: Hold): Promise<void> {
    const first = this.state.first;
    const answer = await this.full.ask({ resize: { sheet: first, diameter, height, hold } });
    if (!answer || this.state.first !== first) return;
    if ("problems" in answer) for (const { text } of answer.problems) this.tell(`The cell in that can: ${text}.`);
    else {
      this.replace({ ...workOn({ first, second: answer.ok }), sizes: this.state.sizes }, `the cell as ${diameter} × ${height}`);
      this.focusOn("#answer");
    }
  }

  /**
   * Changes that the model makes: correlations, names and what was made from what follow there. Of changes with one `key` that
   * wait, only the last is made; `from` is the sheet that they begin at, where that is not the sheet as it stands.
   */
  change(side: Side, edits: Edit[], what: string, key = "", from?: Sheet): void {
    const waiting = this.#changes.at(-1);
    if (key && waiting?.key === key) this.#changes.pop();
    this.#changes.push({ side, edits, what, key, from });
    if (!this.#changing) void this.#make();
  }

  async #make(): Promise<void> {
    this.#changing = true;
    for (let next = this.#changes.shift(); next; next = this.#changes.shift()) {
      const { side, edits, what, key, from } = next;
      const sheet = from ?? sheetOf(this.state, side);
      const answer = sheet && (await this.model.ask({ edit: { sheet, edits } }));
      if (answer && "ok" in answer) this.set({ [side]: answer.ok.sheet }, what, key);
      // A hand that moves passes over what cannot be; a press of a button is answered.
      else if (answer && !from) for (const { text } of answer.problems) this.tell(`That change: ${text}.`);
    }
    this.#changing = false;
  }

  async file(side: Side, file: File): Promise<void> {
    try {
      const read = await this.model.ask({ sheet: await textFromFile(file) });
      if (!read) return;
      if ("problems" in read) throw new Error(`cannot be read: ${inWords(read.problems)}`);
      this.load(side, named(read.ok));
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
      if (read && "ok" in read) return this.#first(workFrom(read.ok));
      // What was kept cannot be read: the address says what there is.
    }
    const last = keptLast();
    if (last && !isState(hash)) void this.#offer(JSON.stringify(last.state));
    await this.follow(hash, true);
    if (!isState(hash)) this.#first(workOf(this.state));
  }

  /** Offers the work of an earlier visit, where it can be read. */
  async #offer(work: string): Promise<void> {
    const read = await this.model.ask({ work });
    if (!read || !("ok" in read)) return;
    this.earlier = { ...read.ok, first: named(read.ok.first) };
    this.draw();
  }

  /** Goes on with the work that an earlier visit left. */
  goOn(): void {
    if (this.earlier) this.replace(workFrom(this.earlier), "the work of an earlier visit");
    this.earlier = null;
  }

  /** The work a visit begins with: there is nothing before it. */
  #first(work: Work): void {
    Object.assign(this.state, work);
    this.#timeline = new Timeline(workOf(this.state));
    history.replaceState({ visit: VISIT, at: this.#timeline.at }, "", location.href);
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
      else this.replace(work, "following a link");
    } catch (error) {
      this.tell(`The link ${wordsOf(error)}. The cells shown are not from the link.`);
    }
  }

  /** The browser's back and forward buttons, and addresses typed or followed. */
  async moved(told: unknown): Promise<void> {
    const { visit, at } = (told ?? {}) as { visit?: string; at?: number };
    const work = visit === VISIT && at !== undefined ? this.#timeline.go(at) : null;
    if (work) return this.#restore(work, "Back to the cells as they were.");
    await this.follow(location.hash);
  }

  /** The reconciled sheet in the place of the one that the readings were held against. */
  accept(side: Side, sheet: Sheet): void {
    const { first, second } = this.state;
    const { bench, sizes } = this.state;
    this.replace({ ...workOn(side === "first" ? { first: sheet, second } : { first, second: sheet }), bench, sizes }, "taking the reconciled sheet");
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

  /** The work as it stands, in the form of links and files. */
  linked(): Linked {
    const { first, second, changes, prices, claim, bench, discharge, sizes } = this.state;
    return {
      version: 1,
      first,
      ...(second && { second }),
      ...(changes && { changes }),
      ...(prices && { prices }),
      ...(claim && { claim }),
      ...(bench.readings && { bench }),
      ...(discharge && { discharge }),
      ...(JSON.stringify(sizes) !== JSON.stringify(USUAL_SIZES) && { sizes }),
    };
  }

  /** The link to the work as it stands. */
  async address(): Promise<string> {
    const { bench, ...others } = this.linked();
    const short = bench && (bench.readings?.length ?? 0) + (bench.instruments?.length ?? 0) <= LONGEST_IN_LINK;
    return location.href.replace(/#.*$/, "") + (await toHash({ ...others, ...(short && { bench }) }));
  }

  askAgain(): void {
    void this.#askModel();
    clearTimeout(this.#waiting);
    this.#waiting = window.setTimeout(() => this.draw(), DRAW_WITHOUT_ANSWER_AFTER_MS);
  }

  /** In this browser at once, in the address a moment later. */
  #keep(): void {
    keepHere(location.hash, this.linked());
    clearTimeout(this.#link);
    this.#link = window.setTimeout(async () => {
      history.replaceState({ visit: VISIT, at: this.#timeline.at }, "", await this.address());
      keepHere(location.hash, this.linked());
    }, LINK_AFTER_MS);
  }

  async #askModel(): Promise<void> {
    const { first, second } = this.state;
    const question = questionOf(this.state);
    this.state.busy = true;
    const answer = await this.model.ask(question);
    if (!answer) return;
    clearTimeout(this.#waiting);
    this.state.busy = false;
    if ("problems" in answer) this.state.problems = answer.problems;
    else {
      this.state.problems = [];
      const { result: old } = this.state;
      const told = keep(old?.kind === "two" ? old.comparison : old?.first, answer.ok);
      this.state.result =
        "first" in told && second
          ? { kind: "two", comparison: told, first: told.first, second: told.second, asked: { first, second } }
          : { kind: "one", first: told as Exclude<typeof told, { second: unknown }>, asked: { first, second: null } };
    }
    this.draw();
  }
}

const workFrom = ({ first, second, changes, prices, claim, bench, discharge, sizes }: Linked): Work => ({
  ...workOn({ first: named(first), second: second ? named(second) : null }),
  changes: changes ?? null, prices: prices ?? null, claim: claim ?? "", bench: { ...NO_BENCH, ...bench }, discharge: discharge ?? "", sizes: sizes ?? USUAL_SIZES,
});

/** A sheet with its version and a name to call it by. */
const named = (sheet: Sheet): Sheet => ({ ...sheet, roulade_sheet: 1, cell: sheet.cell ?? "unnamed" });

/** Problems that are told in one message; the rest are counted. */
const MOST_TOLD = 3;

const inWords = (problems: Problem[]): string =>
  problems.slice(0, MOST_TOLD).map(({ text }) => text).join("; ") + (problems.length > MOST_TOLD ? `; and ${problems.length - MOST_TOLD} more` : "");

export const wordsOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));
