/** A worker's side of the talk: takes the model's bytes once, then answers questions in the order in which they come. */
import { unpack } from "./unpack";
import type { Answer, ChangeQuestion, EditAnswer, LongQuestion, Question } from "./contract";

/** The bytes of a model, or something else to be unpacked, or a question. */
export type ToModel = { bytes: ArrayBuffer; packed: boolean } | { unpack: ArrayBuffer } | { id: number; question: Question } | { id: number; long: LongQuestion };
/** The model is there; where it is not, this says why. */
export interface Started {
  failed?: string;
}
/** `text` is the model's answer as JSON; `broken` says why there is none; `share` of long work is done. */
export type FromModel = { id: number; text: string } | { id: number; broken: string } | { id: number; share: number };

export type Tell = (done: number, of: number) => void;
/** What is answered at once: the functions of the model, by the name of the question. */
interface Short {
  sheet(text: string): string;
  work(text: string): string;
  estimate(sheet: string): string;
  compare(first: string, second: string): string;
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

const reply = (message: Started | FromModel): void => self.postMessage(message);
const reason = (error: unknown): string => (error instanceof Error ? error.message : String(error));

export function serve(init: (from: { module: WebAssembly.Module }) => unknown, model: Short, long: Long): void {
  function answer(question: Question): string {
    if ("estimate" in question) return model.estimate(JSON.stringify(question.estimate));
    // As it was written, so that the model judges the text itself: a key that stands twice, a number too long.
    if ("work" in question) return model.work(question.work);
    if ("sheet" in question) return model.sheet(question.sheet);
    if ("compare" in question) return model.compare(JSON.stringify(question.compare.first), JSON.stringify(question.compare.second));
    if ("change" in question) return changed(question.change);
    if ("without" in question) return model.without(JSON.stringify(question.without));
    if ("materials" in question) return model.materials();
    if ("quantities" in question) return model.quantities();
    if ("template" in question) return model.template(JSON.stringify(question.template));
    if ("readable" in question) return model.readable();
    return model.resize(JSON.stringify(question.resize));
  }

  /** The changed sheets and the answer about them, in one message. */
  function changed({ edits, ...sheets }: ChangeQuestion): string {
    for (const side of ["first", "second"] as const) {
      const [sheet, asked] = [sheets[side], edits[side]];
      if (!sheet || !asked) continue;
      const made = JSON.parse(model.edit(JSON.stringify({ sheet, edits: asked }))) as Answer<EditAnswer>;
      if ("problems" in made) return JSON.stringify(made);
      sheets[side] = made.ok.sheet;
    }
    const [one, two] = [JSON.stringify(sheets.first), sheets.second && JSON.stringify(sheets.second)];
    return `{"ok":{"first":${one},${two ? `"second":${two},` : ""}"answer":${two ? model.compare(one, two) : model.estimate(one)}}}`;
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

  async function start(bytes: ArrayBuffer, packed: boolean): Promise<void> {
    try {
      init({ module: await WebAssembly.compile(packed ? unpack(new Uint8Array(bytes)) : bytes) });
      reply({});
    } catch (error) {
      reply({ failed: reason(error) });
    }
  }

  self.addEventListener("message", ({ data }: MessageEvent<ToModel>) => {
    if ("unpack" in data) {
      const { buffer } = unpack(new Uint8Array(data.unpack));
      return self.postMessage(buffer, { transfer: [buffer] });
    }
    if ("bytes" in data) return void start(data.bytes, data.packed);
    try {
      reply({ id: data.id, text: "long" in data ? answerLong(data.id, data.long) : answer(data.question) });
    } catch (error) {
      reply({ id: data.id, broken: reason(error) });
    }
  });
}
