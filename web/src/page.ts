/** What can be done on the page. Each action changes the state, asks the model at once and draws the page in the next frame. */
import { BENCH, POINTS } from "./demo";
import { partsOf, type Side } from "./entry";
import { keep } from "./keep";
import { fromHash, isState, toHash } from "./link";
import { Model } from "./model/client";
import type { Changes, Hold, Prices, Sheet } from "./model/contract";
import { Bench } from "./model/study";
import { sheetFromFile, textFromFile } from "./read";
import { begin, type BenchSheet, questionOf, sheetOf, type Shown, type Sizes, type State, USUAL_SIZES } from "./state";

const LINK_AFTER_MS = 300;
/** An answer mostly comes within a frame, and drawing before it would only delay it. */
const DRAW_WITHOUT_ANSWER_AFTER_MS = 60;

export class Page {
  state: State;
  readonly bench: Bench;
  #frame = 0;
  #link = 0;
  #waiting = 0;
  #focus: string | null = null;

  constructor(
    private readonly model: Model,
    /** Starts the whole model, for what the first screen does not ask. */
    private readonly startWhole: () => Promise<Worker>,
    private readonly render: (page: Page) => void,
  ) {
    const point = POINTS[0]?.cells();
    if (!point) throw new Error("no starting point");
    this.state = begin(point.first, point.second);
    this.state.point = POINTS[0]?.id ?? null;
    this.bench = new Bench(startWhole, this.state.studies, () => this.draw());
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

  show(change: Partial<Shown>): void {
    Object.assign(this.state.shown, change);
    this.draw();
  }

  /** After the next drawing the focus goes to the first element that matches. */
  focusOn(selector: string): void {
    this.#focus = selector;
    this.draw();
  }

  edit(side: Side, change: (sheet: Sheet) => Sheet): void {
    const sheet = sheetOf(this.state, side);
    if (!sheet) return;
    this.state[side] = change(sheet);
    this.#changed();
  }

  load(side: Side, sheet: Sheet): void {
    this.state[side] = sheet;
    this.state.removed[side] = [];
    this.#loaded();
  }

  start(id: string): void {
    const point = POINTS.find((one) => one.id === id);
    if (!point) return;
    this.#replace(point.cells());
    this.state.point = id;
    history.replaceState(null, "", location.pathname + location.search);
    clearTimeout(this.#link);
  }

  alone(): void {
    this.#replace({ first: this.state.first, second: null });
  }

  /** A copy of the first cell as the second, to be changed by hand. */
  copy(): void {
    const second = structuredClone(this.state.first);
    second.cell = `${second.cell}, changed`;
    // What the copy does not change is then one quantity with one uncertainty, not two.
    second.made_from = this.state.first.cell;
    this.#replace({ first: this.state.first, second });
  }

  swap(): void {
    if (this.state.second) this.#replace({ first: this.state.second, second: this.state.first });
  }

  takeOut(side: Side, at: number): void {
    const sheet = sheetOf(this.state, side);
    const part = sheet && partsOf(sheet)[at];
    if (!part) return;
    this.state.removed[side].push({ part, at });
    this.edit(side, (old) => ({ ...old, parts: partsOf(old).filter((_, i) => i !== at) }));
    this.focusOn(`[data-back="${side}"]`);
  }

  putBack(side: Side): void {
    const back = this.state.removed[side].pop();
    if (!back) return;
    this.edit(side, (old) => ({ ...old, parts: partsOf(old).toSpliced(back.at, 0, back.part) }));
    this.focusOn(`[data-place="${side}.parts[${back.at}].name"]`);
  }

  /** The name of a cell; a sheet that was made from the first one's goes on saying so. */
  rename(side: Side, cell: string): void {
    const { first, second } = this.state;
    if (side === "first" && second?.made_from !== undefined && second.made_from === first.cell) this.state.second = { ...second, made_from: cell };
    this.edit(side, (old) => ({ ...old, cell }));
  }

  /** The first cell against itself without one part; the second sheet becomes the one that the model makes of it. */
  async compareWithout(part: string, reclaim: string): Promise<void> {
    const first = this.state.first;
    this.show({ reclaim, reclaimProblem: "" });
    const answer = await this.model.ask({ without: { sheet: first, part, reclaim } });
    if (!answer || this.state.first !== first) return;
    if ("ok" in answer) return this.#replace({ first, second: answer.ok.sheet });
    for (const { place, text } of answer.problems) {
      if (place === "reclaim") this.show({ reclaimProblem: text.replace(`${place}: `, "") });
      else this.tell(`The cell without this part: ${text}.`);
    }
  }

  /** The first cell's recipe in another can, as the second cell. */
  async resize(diameter: string, height: string, hold: Hold): Promise<void> {
    const first = this.state.first;
    const answer = await Model.once(this.startWhole, { resize: { sheet: first, diameter, height, hold } });
    if (!answer || this.state.first !== first) return;
    if ("problems" in answer) for (const { text } of answer.problems) this.tell(`The cell in that can: ${text}.`);
    else {
      this.#replace({ first, second: answer.ok });
      this.focusOn("#answer");
    }
  }

  async file(side: Side, file: File): Promise<void> {
    try {
      this.load(side, await sheetFromFile(file));
      this.say(`${file.name} loaded.`);
    } catch (error) {
      this.tell(`“${file.name}” ${wordsOf(error)}. Nothing was changed.`);
    }
  }

  /** Loads the state in the address, if there is one. */
  async follow(hash: string): Promise<void> {
    if (!isState(hash)) return;
    try {
      const { first, second, changes, prices, claim, bench, sizes } = await fromHash(hash);
      this.#replace({ first, second: second ?? null });
      Object.assign(this.state, { changes: changes ?? null, prices: prices ?? null, claim: claim ?? "", bench: { ...this.state.bench, ...bench }, sizes: sizes ?? USUAL_SIZES });
    } catch (error) {
      this.tell(`The link ${wordsOf(error)}. The cells shown are not from the link.`);
    }
  }

  regroup(changes: Changes | null): void {
    this.state.changes = changes;
    this.#linkSoon();
    this.draw();
  }

  price(prices: Prices | null): void {
    this.state.prices = prices;
    this.#linkSoon();
    this.draw();
  }

  claim(said: string): void {
    this.state.claim = said;
    this.#linkSoon();
    this.draw();
  }

  setSizes(to: Partial<Sizes>): void {
    this.state.sizes = { ...this.state.sizes, ...to };
    this.#linkSoon();
    this.draw();
  }

  setBench(to: Partial<BenchSheet>): void {
    this.state.bench = { ...this.state.bench, ...to };
    this.#linkSoon();
    this.draw();
  }

  demoBench(): void {
    this.setBench({ ...BENCH, side: "first" });
  }

  async benchFile(name: "readings" | "instruments", file: File): Promise<void> {
    try {
      this.setBench({ [name]: await textFromFile(file) });
    } catch (error) {
      this.tell(`“${file.name}” ${wordsOf(error)}. Nothing was changed.`);
    }
  }

  /** The reconciled sheet in the place of the one that the readings were held against. */
  accept(side: Side, sheet: Sheet): void {
    this.state[side] = sheet;
    this.#changed();
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

  /** The link to the sheets as they stand. */
  async address(): Promise<string> {
    const { first, second, changes, prices, claim, bench, sizes } = this.state;
    const hash = await toHash({
      version: 1,
      first,
      ...(second && { second }),
      ...(changes && { changes }),
      ...(prices && { prices }),
      ...(claim && { claim }),
      ...(bench.readings && { bench }),
      ...(JSON.stringify(sizes) !== JSON.stringify(USUAL_SIZES) && { sizes }),
    });
    return location.href.replace(/#.*$/, "") + hash;
  }

  askAgain(): void {
    void this.#askModel();
    clearTimeout(this.#waiting);
    this.#waiting = window.setTimeout(() => this.draw(), DRAW_WITHOUT_ANSWER_AFTER_MS);
  }

  #replace(cells: { first: Sheet; second: Sheet | null }): void {
    Object.assign(this.state, cells);
    this.state.removed = { first: [], second: [] };
    this.#loaded();
  }

  #loaded(): void {
    this.state.point = null;
    this.state.changes = null;
    this.bench.clear();
    this.state.draft = null;
    this.state.said = "";
    this.state.messages = [];
    Object.assign(this.state.shown, { added: [], roll: null, place: null, reclaimProblem: "" });
    this.#changed();
  }

  #changed(): void {
    this.askAgain();
    this.#linkSoon();
  }

  #linkSoon(): void {
    clearTimeout(this.#link);
    this.#link = window.setTimeout(async () => history.replaceState(null, "", await this.address()), LINK_AFTER_MS);
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

export const wordsOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));
