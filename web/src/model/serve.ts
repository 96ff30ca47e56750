/** A worker's side of the talk: takes the model's bytes once, then answers questions in the order in which they come. */
import type { Answer, ChangeQuestion, EditAnswer, LongQuestion, Question } from "./contract";

export type ToModel = { bytes: ArrayBuffer } | { id: number; question: Question } | { id: number; long: LongQuestion };
/** `text` is the model's answer as JSON; `broken` says why there is none; `share` of long work is done; `ready` once the model is there. */
export type FromModel = { ready: true } | { id: number; text: string } | { id: number; broken: string } | { id: number; share: number };

export type Tell = (done: number, of: number) => void;
/** What the small model answers: the functions of the model, by the name of the question. */
interface First {
  sheet(text: string): string;
  work(text: string): string;
  estimate(sheet: string): string;
  compare(first: string, second: string): string;
}
/** What the whole model answers at once besides. */
interface Rest {
  without(question: string): string;
  edit(question: string): string;
  materials(): string;
  quantities(): string;
  resize(question: string): string;
  readable(): string;
  template(sheet: string): string;
}
export type Long = Record<string, (question: string, tell: Tell) => string>;

const TELL_EVERY_MS = 50;

const reply = (message: FromModel): void => self.postMessage(message);

export function serve(init: (from: { module_or_path: ArrayBuffer }) => Promise<unknown>, first: First, rest?: Rest, long: Long = {}): void {
  let ready: Promise<unknown> = Promise.reject(new Error("asked before it was started"));
  ready.catch(() => undefined);

  function known(): Rest {
    if (!rest) throw new Error("the small model does not know this question");
    return rest;
  }

  function answer(question: Question): string {
    if ("estimate" in question) return first.estimate(JSON.stringify(question.estimate));
    // As it was written, so that the model judges the text itself: a key that stands twice, a number too long.
    if ("work" in question) return first.work(question.work);
    if ("sheet" in question) return first.sheet(question.sheet);
    if ("compare" in question) return first.compare(JSON.stringify(question.compare.first), JSON.stringify(question.compare.second));
    if ("change" in question) return changed(question.change);
    if ("without" in question) return known().without(JSON.stringify(question.without));
    if ("materials" in question) return known().materials();
    if ("quantities" in question) return known().quantities();
    if ("template" in question) return known().template(JSON.stringify(question.template));
    if ("readable" in question) return known().readable();
    return known().resize(JSON.stringify(question.resize));
  }

  /** The changed sheets and the answer about them, in one message. */
  function changed({ edits, ...sheets }: ChangeQuestion): string {
    for (const side of ["first", "second"] as const) {
      const [sheet, asked] = [sheets[side], edits[side]];
      if (!sheet || !asked) continue;
      const made = JSON.parse(known().edit(JSON.stringify({ sheet, edits: asked }))) as Answer<EditAnswer>;
      if ("problems" in made) return JSON.stringify(made);
      sheets[side] = made.ok.sheet;
    }
    const [one, two] = [JSON.stringify(sheets.first), sheets.second && JSON.stringify(sheets.second)];
    return `{"ok":{"first":${one},${two ? `"second":${two},` : ""}"answer":${two ? first.compare(one, two) : first.estimate(one)}}}`;
  }

  function answerLong(id: number, { kind, asked }: LongQuestion): string {
    const work = long[kind];
    if (!work) throw new Error("this model does no long work");
    let last = performance.now();
    return work(JSON.stringify(asked), (done, of) => {
      const now = performance.now();
      if (now - last < TELL_EVERY_MS) return;
      last = now;
      reply({ id, share: done / of });
    });
  }

  self.addEventListener("message", async ({ data }: MessageEvent<ToModel>) => {
    if ("bytes" in data) {
      ready = init({ module_or_path: data.bytes });
      // What fails to start is told with the first question.
      ready.then(() => reply({ ready: true })).catch(() => undefined);
      return;
    }
    try {
      await ready;
      reply({ id: data.id, text: "long" in data ? answerLong(data.id, data.long) : answer(data.question) });
    } catch (error) {
      reply({ id: data.id, broken: error instanceof Error ? error.message : String(error) });
    }
  });
}
