/** Where labels find room on a drawing. */

/** About what a label takes, in the units of the drawing. */
const LETTER = 7.5;
const LINE = 14;

type Box = [left: number, top: number, right: number, bottom: number];

/** Gives out places for labels on a drawing, no two on one another and none on a dot. */
export class Room {
  #taken: Box[];

  constructor(
    private readonly left: number,
    private readonly right: number,
    dots: { x: number; y: number }[],
  ) {
    this.#taken = dots.map(({ x, y }) => [x - 4, y - 4, x + 4, y + 4]);
  }

  /** On the first free side of a dot. */
  beside(x: number, y: number, label: string): { x: number; y: number; anchor: string } | undefined {
    const [w, h] = [label.length * LETTER, LINE];
    return [
      { x: x + 8, y: y + 4, anchor: "start", box: [x + 8, y - 8, x + 8 + w, y + 6] as Box },
      { x: x - 8, y: y + 4, anchor: "end", box: [x - 8 - w, y - 8, x - 8, y + 6] as Box },
      { x, y: y - 8, anchor: "middle", box: [x - w / 2, y - 8 - h, x + w / 2, y - 8] as Box },
      { x, y: y + 18, anchor: "middle", box: [x - w / 2, y + 8, x + w / 2, y + 8 + h] as Box },
    ].find(({ box }) => this.#take(box));
  }

  /** On a line itself. */
  on(x: number, y: number, label: string): boolean {
    const w = label.length * LETTER;
    return this.#take([x - w / 2, y - LINE / 2, x + w / 2, y + LINE / 2]);
  }

  #take(box: Box): boolean {
    const [left, top, right, bottom] = box;
    const free = left >= this.left && right <= this.right && this.#taken.every(([a, b, c, d]) => right < a || left > c || bottom < b || top > d);
    if (free) this.#taken.push(box);
    return free;
  }
}
