/** Asks the model. Of several questions about sheets only the newest is answered. */
import type { Answer, Comparison, Estimate, Material, Problem, Quantity, Question, Sheet, Taken } from "./contract";
import type { FromModel, ToModel } from "./serve";

/** What each kind of question is answered with. */
export type Reply<Q extends Question> = Q extends { estimate: unknown }
  ? Estimate
  : Q extends { compare: unknown }
    ? Comparison
    : Q extends { without: unknown }
      ? Taken
      : Q extends { resize: unknown }
        ? Sheet
        : Q extends { quantities: unknown }
          ? Quantity[]
          : Material[];

interface Waiting {
  id: number;
  question: Question;
  done: (answer: Answer<unknown> | null) => void;
}

/** One question is with the model, at most one more waits: a newer one takes its place. */
interface Lane {
  asked: Waiting | null;
  next: Waiting | null;
}

const broken = (why: string): { problems: Problem[] } => ({
  problems: [{ place: "", found: why, expected: "an answer", text: `The model stopped (${why}). Change an entry, or load the page again.` }],
});

export class Model {
  #worker: Promise<Worker> | null = null;
  #count = 0;
  #lanes: Record<"sheets" | "tables", Lane> = { sheets: { asked: null, next: null }, tables: { asked: null, next: null } };

  constructor(private readonly start: () => Promise<Worker>) {}

  /** The answer, or `null` where a newer question has made this one needless. */
  ask<Q extends Question>(question: Q): Promise<Answer<Reply<Q>> | null> {
    const lane = "materials" in question || "quantities" in question ? this.#lanes.tables : this.#lanes.sheets;
    return new Promise((resolve) => {
      const waiting: Waiting = { id: ++this.#count, question, done: resolve as Waiting["done"] };
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
    this.#worker ??= this.#listen();
    this.#worker.then(
      (worker) => worker.postMessage({ id: waiting.id, question: waiting.question } satisfies ToModel),
      (error: unknown) => this.#stopped(error instanceof Error ? error.message : String(error)),
    );
  }

  async #listen(): Promise<Worker> {
    const worker = await this.start();
    worker.addEventListener("message", ({ data }: MessageEvent<FromModel>) => {
      // Only long work tells of its progress, and it has workers of its own.
      if ("share" in data) return;
      if ("broken" in data) {
        worker.terminate();
        this.#stopped(data.broken);
        return;
      }
      const lane = Object.values(this.#lanes).find(({ asked }) => asked?.id === data.id);
      if (!lane?.asked) return;
      // An answer that a newer question has overtaken is dropped.
      lane.asked.done(lane.next ? null : (JSON.parse(data.text) as Answer<unknown>));
      this.#send(lane);
    });
    worker.addEventListener("error", (event) => {
      event.preventDefault();
      worker.terminate();
      this.#stopped(event.message || "the worker could not be started");
    });
    return worker;
  }

  /** Answers what was asked with the reason; the next question starts a fresh worker. */
  #stopped(why: string): void {
    this.#worker = null;
    for (const lane of Object.values(this.#lanes)) {
      lane.asked?.done(lane.next ? null : broken(why));
      this.#send(lane);
    }
  }

  /** Asks a model that is started for this question alone. */
  static async once<Q extends Question>(start: () => Promise<Worker>, question: Q): Promise<Answer<Reply<Q>> | null> {
    const model = new Model(start);
    const answer = await model.ask(question);
    (await model.#worker)?.terminate();
    return answer;
  }
}
