/** What was done, so that it can be undone and done again. Knows nothing of what it keeps. */

/** Steps beyond this are forgotten, the oldest first. */
const MOST = 300;

interface Step<T> {
  value: T;
  what: string;
  key: string;
}

export class Timeline<T> {
  #kept: [Step<T>, ...Step<T>[]];
  /** How many were forgotten, so that places stay what they are. */
  #gone = 0;
  #at = 0;

  constructor(begin: T) {
    this.#kept = [{ value: begin, what: "", key: "" }];
  }

  /** The place of the present, which stays its place. */
  get at(): number {
    return this.#at + this.#gone;
  }

  /** A new present. One of the same `key` as the last, such as a field that is typed into, takes its place. */
  record(value: T, what: string, key = ""): void {
    const now = this.#kept[this.#at];
    this.#kept.length = this.#at + 1;
    if (key && now?.key === key) now.value = value;
    else this.#kept.push({ value, what, key });
    if (this.#kept.length > MOST) {
      this.#kept.shift();
      this.#gone++;
    }
    this.#at = this.#kept.length - 1;
  }

  /** The next record is a step of its own, whatever its key. */
  rest(): void {
    const now = this.#kept[this.#at];
    if (now) now.key = "";
  }

  /** The present. */
  get now(): T {
    return this.#value(this.#at);
  }

  /** What the step of this key began with; the present, where that is no such step. */
  before(key: string): T {
    return this.#value(key && this.#kept[this.#at]?.key === key ? this.#at - 1 : this.#at);
  }

  /** What undoing or doing again would be about. */
  get undoes(): string | null {
    return this.#at > 0 ? (this.#kept[this.#at]?.what ?? null) : null;
  }

  get redoes(): string | null {
    return this.#kept[this.#at + 1]?.what ?? null;
  }

  /** The value at a place; `null` where there is none. */
  go(place: number): T | null {
    const at = place - this.#gone;
    const there = this.#kept[at];
    if (!there) return null;
    this.rest();
    this.#at = at;
    return there.value;
  }

  undo(): T | null {
    return this.go(this.at - 1);
  }

  redo(): T | null {
    return this.go(this.at + 1);
  }

  #value(at: number): T {
    return (this.#kept[at] ?? this.#kept[0]).value;
  }
}
