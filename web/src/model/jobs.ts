/** Runs long work: a worker for each kind, with progress, stopped by ending the worker. Workers that are done wait for the next job. */
import type { Answer, Asked, LongAnswer, LongKind, LongQuestion, Problem } from "./contract";
import type { FromModel, ToModel } from "./serve";

/** Where a kind of long work stands. */
export interface Study<T> {
  /** Share done, from 0 to 1, while it runs. */
  share: number | null;
  /** What was asked last, answered or not, so that nothing is asked twice. */
  wanted: string | null;
  /** What the last answer was asked, to tell whether it still fits. */
  asked: string | null;
  answer: T | null;
  problems: Problem[];
  stopped: boolean;
}

export type Studies = { [K in LongKind]: Study<LongAnswer<K>> };

export const idle = <T>(): Study<T> => ({ share: null, wanted: null, asked: null, answer: null, problems: [], stopped: false });

/** Workers kept for later: each holds a model of some megabytes. */
const MOST_IDLE = 2;
/** What is typed or dragged is asked once the hand rests. */
const REST_MS = 250;

const broken = (why: string): Problem[] => [{ place: "", found: why, expected: "an answer", text: `The model stopped (${why}).` }];

export class Jobs {
  #running = new Map<LongKind, { stop: () => void }>();
  #soon = new Map<LongKind, number>();
  #idle: Worker[] = [];

  constructor(
    private readonly start: () => Promise<Worker>,
    private readonly studies: Studies,
    private readonly changed: () => void,
  ) {}

  /** Sees to it that the question is answered, soon: what was asked already is not asked again, even where it was stopped. */
  want<K extends LongKind>(kind: K, asked: Asked<K>): void {
    const text = JSON.stringify(asked);
    if (this.studies[kind].wanted === text) return;
    this.studies[kind].wanted = text;
    clearTimeout(this.#soon.get(kind));
    this.#soon.set(kind, window.setTimeout(() => void this.ask(kind, asked), this.studies[kind].answer || this.studies[kind].problems.length ? REST_MS : 0));
  }

  /** Asks; a question of the same kind that still runs is stopped. The last answer stays until there is a new one. */
  async ask<K extends LongKind>(kind: K, asked: Asked<K>): Promise<void> {
    clearTimeout(this.#soon.get(kind));
    this.#running.get(kind)?.stop();
    const study = this.studies[kind];
    const text = JSON.stringify(asked);
    Object.assign(study, { share: 0, stopped: false, wanted: text });
    this.changed();
    const control = new AbortController();
    const running = { stop: () => control.abort() };
    this.#running.set(kind, running);
    const answer = await this.once(kind, asked, control.signal, (share) => {
      study.share = share;
      this.changed();
    });
    if (this.#running.get(kind) !== running || !answer) return;
    this.#running.delete(kind);
    Object.assign(study, { share: null, ...("ok" in answer ? { asked: text, answer: answer.ok, problems: [] } : { problems: answer.problems }) });
    this.changed();
  }

  /** One answer for whoever waits for it; `null` where it was stopped. */
  async once<K extends LongKind>(kind: K, asked: Asked<K>, signal?: AbortSignal, tell: (share: number) => void = () => undefined): Promise<Answer<LongAnswer<K>> | null> {
    let worker: Worker;
    try {
      worker = this.#idle.pop() ?? (await this.start());
    } catch (error) {
      return { problems: broken(error instanceof Error ? error.message : String(error)) };
    }
    return new Promise((resolve) => {
      const listening = new AbortController();
      const end = (answer: Answer<LongAnswer<K>> | null, reusable: boolean): void => {
        listening.abort();
        if (reusable && this.#idle.length < MOST_IDLE) this.#idle.push(worker);
        else worker.terminate();
        resolve(answer);
      };
      if (signal?.aborted) return end(null, true);
      const on = { signal: listening.signal };
      signal?.addEventListener("abort", () => end(null, false), on);
      worker.addEventListener("message", ({ data }: MessageEvent<FromModel>) => {
        if ("share" in data) return tell(data.share);
        if ("broken" in data) return end({ problems: broken(data.broken) }, false);
        end(JSON.parse(data.text) as Answer<LongAnswer<K>>, true);
      }, on);
      worker.addEventListener("error", (event) => {
        event.preventDefault();
        end({ problems: broken(event.message || "the worker could not be started") }, false);
      }, on);
      worker.postMessage({ id: 0, long: { kind, asked } as unknown as LongQuestion } satisfies ToModel);
    });
  }

  /** Stops all work and forgets its answers: they were about other cells. */
  clear(): void {
    for (const { stop } of this.#running.values()) stop();
    for (const soon of this.#soon.values()) clearTimeout(soon);
    this.#running.clear();
    for (const study of Object.values(this.studies)) Object.assign(study, idle());
    this.changed();
  }

  stop(kind: LongKind): void {
    clearTimeout(this.#soon.get(kind));
    this.#running.get(kind)?.stop();
    if (!this.#running.delete(kind)) return;
    Object.assign(this.studies[kind], { share: null, stopped: true });
    this.changed();
  }
}
