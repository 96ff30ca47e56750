/**
 * Asks the model. Of several questions about sheets only the newest is answered. A worker that dies, or is silent for too long, is
 * replaced and asked once more, so that the hand goes on working.
 */
import type { Answer, Changed, Comparison, Estimate, Material, Problem, Quantity, Question, Readable, Sheet, Taken } from "./contract";
import type { Linked } from "../link";
import type { FromModel, ToModel } from "./serve";

/** What each kind of question is answered with. */
export type Reply<Q extends Question> = Q extends { estimate: unknown }
  ? Estimate
  : Q extends { sheet: unknown }
    ? Sheet
    : Q extends { work: unknown }
      ? Linked
  : Q extends { compare: unknown }
    ? Comparison
    : Q extends { without: unknown }
      ? Taken
      : Q extends { resize: unknown }
        ? Sheet
        : Q extends { change: unknown }
        ? Changed
        : Q extends { quantities: unknown }
          ? Quantity[]
          : Q extends { readable: unknown }
            ? Readable[]
            : Q extends { template: unknown }
              ? string
              : Material[];

/** An answer takes a millisecond; a worker that has been silent for so long will not answer. */
const PATIENCE_MS = 2_000;
const MOST_TRIES = 2;

interface Waiting {
  id: number;
  question: Question;
  tries: number;
  done: (answer: Answer<unknown> | null) => void;
}

/** One question is with the model, at most one more waits: a newer one takes its place. */
interface Lane {
  asked: Waiting | null;
  next: Waiting | null;
}

const broken = (why: string): { problems: Problem[] } => ({
  problems: [{ place: "", found: why, expected: "an answer", text: `The model stopped twice (${why}). Undo the last change, or load the page again; what was typed is kept.` }],
});

export class Model {
  #worker: Promise<Worker> | null = null;
  #watch = 0;
  #count = 0;
  #lanes: Record<"texts" | "sheets" | "changes" | "tables", Lane> = { texts: { asked: null, next: null }, sheets: { asked: null, next: null }, changes: { asked: null, next: null }, tables: { asked: null, next: null } };

  constructor(
    private readonly start: () => Promise<Worker>,
    /** Told whenever a worker had to be replaced. */
    private readonly replaced: () => void = () => undefined,
  ) {}

  /** The answer, or `null` where a newer question has made this one needless. */
  ask<Q extends Question>(question: Q): Promise<Answer<Reply<Q>> | null> {
    const lane = "sheet" in question || "work" in question ? this.#lanes.texts : "change" in question ? this.#lanes.changes : "materials" in question || "quantities" in question || "readable" in question ? this.#lanes.tables : this.#lanes.sheets;
    return new Promise((resolve) => {
      const waiting: Waiting = { id: ++this.#count, question, tries: 0, done: resolve as Waiting["done"] };
      lane.next?.done(null);
      lane.next = waiting;
      if (!lane.asked) this.#send(lane);
    });
  }

  #send(lane: Lane): void {
    const waiting = lane.next;
    lane.asked = waiting;
    lane.next = null;
    if (!waiting) return;
    waiting.tries++;
    const worker = (this.#worker ??= this.#listen());
    worker.then(
      (listener) => {
        listener.postMessage({ id: waiting.id, question: waiting.question } satisfies ToModel);
        this.#watchOver();
      },
      (error: unknown) => this.#worker === worker && this.#stopped(error instanceof Error ? error.message : String(error)),
    );
  }

  /** The clock runs while a model that is there owes an answer. */
  #watchOver(): void {
    clearTimeout(this.#watch);
    if (Object.values(this.#lanes).some(({ asked }) => asked)) this.#watch = window.setTimeout(() => this.#stopped("no answer within two seconds"), PATIENCE_MS);
  }

  async #listen(): Promise<Worker> {
    const worker = await this.start();
    worker.addEventListener("message", ({ data }: MessageEvent<FromModel>) => {
      // Only long work tells of its progress, and it has workers of its own.
      if ("share" in data) return;
      if ("broken" in data) return this.#stopped(data.broken);
      const lane = Object.values(this.#lanes).find(({ asked }) => asked?.id === data.id);
      if (!lane?.asked) return;
      // An answer that a newer question has overtaken is dropped.
      lane.asked.done(lane.next ? null : (JSON.parse(data.text) as Answer<unknown>));
      lane.asked = null;
      this.#send(lane);
      this.#watchOver();
    });
    worker.addEventListener("error", (event) => {
      event.preventDefault();
      this.#stopped(event.message || "the worker could not be started");
    });
    return worker;
  }

  /** Ends the worker. What it was asked is put to a fresh one once; after that it is answered with the reason. */
  #stopped(why: string): void {
    clearTimeout(this.#watch);
    void this.#worker?.then((worker) => worker.terminate(), () => undefined);
    this.#worker = null;
    for (const lane of Object.values(this.#lanes)) {
      if (lane.asked && !lane.next && lane.asked.tries < MOST_TRIES) lane.next = lane.asked;
      else lane.asked?.done(lane.next ? null : broken(why));
      lane.asked = null;
      this.#send(lane);
    }
    this.replaced();
  }
}
