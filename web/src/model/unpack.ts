/**
 * Unpacks LZMA, which makes a model a fifth smaller than what browsers unpack themselves. The format is the one that its
 * specification calls LZMA alone (public domain): a byte for three settings, 4 bytes for the size of the dictionary, 8 for the size
 * of what is packed, then a range-coded stream. Chances are whole numbers of 2048; each bit is decoded by the chance that stands
 * for its context, and moves that chance. Written here because decoders at hand bring an encoder along, eight times as long.
 */

// Where the chances of each kind of bit stand in one list. A state is one of 12, a place in the output one of 16 by its last bits.
const MATCH = 0, REP = 192, REP_0 = 204, REP_1 = 216, REP_2 = 228, REP_0_LONG = 240, SLOT = 432, FAR = 688, ALIGN = 816, LENGTH = 832, REP_LENGTH = 1346, LITERAL = 1860;
// Within the chances of a length: whether it is short, whether middle, then trees of 8, 8 and 256 leaves.
const LOW = 2, MIDDLE = 130, HIGH = 258;
const HEADER = 13;

/** What was packed. Throws where `packed` is damaged. */
export function unpack(packed: Uint8Array): Uint8Array<ArrayBuffer> {
  const head = new DataView(packed.buffer, packed.byteOffset, HEADER);
  const settings = head.getUint8(0);
  const context = settings % 9, places = 2 ** (Math.floor(settings / 9) % 5) - 1, positions = 2 ** Math.floor(settings / 45) - 1;
  // The upper half of the size is none for anything that fits into a page.
  const made = new Uint8Array(head.getUint32(5, true));
  const chances = new Uint16Array(LITERAL + 0x300 * (places + 1) * 2 ** context).fill(1024);
  let at = HEADER + 5;
  // The coder's two numbers, in a list of their own, for a captured variable beyond 31 bits is a new object at every step.
  const coder = Uint32Array.of(0xffff_ffff, new DataView(packed.buffer, packed.byteOffset).getUint32(HEADER + 1));

  function refill(): void {
    if (coder[0]! >= 0x100_0000) return;
    coder[0]! <<= 8;
    coder[1] = (coder[1]! << 8) | packed[at++]!;
  }
  function bit(index: number): 0 | 1 {
    const chance = chances[index]!, range = coder[0]!, code = coder[1]!;
    const bound = Math.imul(range >>> 11, chance) >>> 0;
    if (code < bound) {
      coder[0] = bound;
      chances[index] = chance + ((2048 - chance) >>> 5);
      refill();
      return 0;
    }
    coder[0] = range - bound;
    coder[1] = code - bound;
    chances[index] = chance - (chance >>> 5);
    refill();
    return 1;
  }
  /** A number of `bits` bits from the highest down, each with a chance of its own for all that came before it. */
  function tree(base: number, bits: number): number {
    return walk(base, 1, 1 << bits) - (1 << bits);
  }
  /** From a node of a tree down to its leaves: most of all bits are read here, so the coder's numbers stay at hand. */
  function walk(base: number, node: number, leaves: number): number {
    let range = coder[0]!, code = coder[1]!;
    while (node < leaves) {
      const chance = chances[base + node]!, bound = Math.imul(range >>> 11, chance) >>> 0;
      if (code < bound) {
        range = bound;
        chances[base + node] = chance + ((2048 - chance) >>> 5);
        node <<= 1;
      } else {
        range = (range - bound) >>> 0;
        code = (code - bound) >>> 0;
        chances[base + node] = chance - (chance >>> 5);
        node = (node << 1) | 1;
      }
      if (range < 0x100_0000) {
        range = (range << 8) >>> 0;
        code = ((code << 8) | packed[at++]!) >>> 0;
      }
    }
    coder[0] = range;
    coder[1] = code;
    return node;
  }
  /** The same from the lowest bit up. */
  function upward(base: number, bits: number): number {
    let node = 1, number = 0;
    for (let i = 0; i < bits; i++) {
      const next = bit(base + node);
      node = node * 2 + next;
      number += next * 2 ** i;
    }
    return number;
  }
  /** A number whose bits are as likely one as none. */
  function even(bits: number): number {
    let number = 0;
    for (let i = 0; i < bits; i++) {
      const half = (coder[0]! >>>= 1), one = coder[1]! >= half;
      if (one) coder[1]! -= half;
      number = number * 2 + +one;
      refill();
    }
    return number;
  }
  function length(base: number, place: number): number {
    if (!bit(base)) return 2 + tree(base + LOW + place * 8, 3);
    return bit(base + 1) ? 18 + tree(base + HIGH, 8) : 10 + tree(base + MIDDLE + place * 8, 3);
  }
  function distance(long: number): number {
    const slot = tree(SLOT + Math.min(long - 2, 3) * 64, 6);
    if (slot < 4) return slot;
    const bits = (slot >> 1) - 1;
    const start = (2 + (slot & 1)) * 2 ** bits;
    return start + (slot < 14 ? upward(FAR + start - slot, bits) : even(bits - 4) * 16 + upward(ALIGN, 4));
  }

  let state = 0, done = 0;
  // How far back the last four matches lay, the newest first.
  let [back, second, third, fourth] = [0, 0, 0, 0];
  while (done < made.length) {
    if (at > packed.length) throw new Error("what is packed ends too early");
    const place = done & positions;
    if (!bit(MATCH + state * 16 + place)) {
      const before = done ? made[done - 1]! : 0;
      const base = LITERAL + 0x300 * ((done & places) * 2 ** context + (before >> (8 - context)));
      let byte = 1;
      if (state > 6) {
        // After a match the byte differs from the one that the match would go on with, mostly in its last bits.
        let likely = made[done - back - 1]!;
        for (let same = true; same && byte < 256; likely <<= 1) {
          const expected = (likely >> 7) & 1, next = bit(base + 256 + expected * 256 + byte);
          byte = byte * 2 + next;
          same = next === expected;
        }
      }
      byte = walk(base, byte, 256);
      made[done++] = byte;
      state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
      continue;
    }
    let long = 1;
    if (!bit(REP + state)) {
      long = length(LENGTH, place);
      [back, second, third, fourth] = [distance(long), back, second, third];
      state = state < 7 ? 7 : 10;
    } else {
      let single = false;
      if (!bit(REP_0 + state)) single = !bit(REP_0_LONG + state * 16 + place);
      else if (!bit(REP_1 + state)) [back, second] = [second, back];
      else if (!bit(REP_2 + state)) [back, second, third] = [third, back, second];
      else [back, second, third, fourth] = [fourth, back, second, third];
      if (!single) long = length(REP_LENGTH, place);
      state = state < 7 ? (single ? 9 : 8) : 11;
    }
    if (back >= done || done + long > made.length) throw new Error("what is packed is damaged");
    for (const end = done + long; done < end; done++) made[done] = made[done - back - 1]!;
  }
  return made;
}
