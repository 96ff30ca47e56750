/** Long work: a worker of its own for each kind, with progress, stopped by ending the worker. */
import type { Answer, LongAnswer, LongKind, LongQuestion, Problem } from "./contract";
import type { FromModel, ToModel } from "./serve";

/** Where a kind of long work stands. */
export interface Study<T> {
  /** Share done, from 0 to 1, while it runs. */
  share: number | null;
  /** What the last answer was asked, to tell whether it still fits. */
  asked: string | null;
  answer: T | null;
  problems: Problem[];
  stopped: boolean;
}

export type Studies = { [K in LongKind]: Study<LongAnswer<K>> };

export const idle = <T>(): Study<T> => ({ share: null, asked: null, answer: null, problems: [], stopped: false });

export class Bench {
  #running = new Map<LongKind, { worker: Worker | null; stop: () => void }>();

  constructor(
    private readonly start: () => Promise<Worker>,
    private readonly studies: Studies,
    private readonly changed: () => void,
  ) {}

  /** Asks; a question of the same kind that still runs is stopped. The last answer stays until there is a new one. */
  async ask<K extends LongKind>(kind: K, asked: Extract<LongQuestion, { kind: K }>["asked"]): Promise<void> {
    this.#running.get(kind)?.stop();
    const study = this.studies[kind];
    Object.assign(study, { share: 0, stopped: false });
    this.changed();
    const running = { worker: null as Worker | null, stop: (): void => running.worker?.terminate() };
    this.#running.set(kind, running);
    const current = (): boolean => this.#running.get(kind) === running;
    const end = (change: Partial<Study<unknown>>): void => {
      running.worker?.terminate();
      if (!current()) return;
      this.#running.delete(kind);
      Object.assign(study, { share: null, ...change });
      this.changed();
    };
    const broken = (why: string): void => end({ problems: [{ place: "", found: why, expected: "an answer", text: `The model stopped (${why}).` }] });
    try {
      const worker = await this.start();
      if (!current()) return worker.terminate();
      running.worker = worker;
      worker.addEventListener("message", ({ data }: MessageEvent<FromModel>) => {
        if ("broken" in data) return broken(data.broken);
        if ("share" in data) {
          study.share = data.share;
          return this.changed();
        }
        const answer = JSON.parse(data.text) as Answer<LongAnswer<K>>;
        end("ok" in answer ? { asked: JSON.stringify(asked), answer: answer.ok, problems: [] } : { problems: answer.problems });
      });
      worker.addEventListener("error", (event) => {
        event.preventDefault();
        broken(event.message || "the worker could not be started");
      });
      worker.postMessage({ id: 0, long: { kind, asked } as unknown as LongQuestion } satisfies ToModel);
    } catch (error) {
      broken(error instanceof Error ? error.message : String(error));
    }
  }

  /** Stops all work and forgets its answers: they were about other cells. */
  clear(): void {
    for (const { stop } of this.#running.values()) stop();
    this.#running.clear();
    for (const study of Object.values(this.studies)) Object.assign(study, idle());
    this.changed();
  }

  stop(kind: LongKind): void {
    this.#running.get(kind)?.stop();
    if (!this.#running.delete(kind)) return;
    Object.assign(this.studies[kind], { share: null, stopped: true });
    this.changed();
  }
}
