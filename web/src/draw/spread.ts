/** Moves places apart, in their order, until neighbours stand at least `gap` apart between `low` and `high`. */
export function spread(wanted: readonly number[], gap: number, low: number, high: number): number[] {
  const order = wanted.map((at, i) => ({ at, i })).sort((a, b) => a.at - b.at || a.i - b.i);
  // Neighbours that would overlap form a run, laid out evenly about their mean; runs merge until none touch.
  const runs: { from: number; members: number[]; sum: number }[] = [];
  const settle = (run: { sum: number; members: number[] }): number => {
    const length = (run.members.length - 1) * gap;
    const from = run.sum / run.members.length - length / 2;
    return Math.max(low, Math.min(from, high - length));
  };
  for (const { at, i } of order) {
    let run = { from: Math.max(low, Math.min(at, high)), members: [i], sum: at };
    for (;;) {
      const before = runs.at(-1);
      if (!before || before.from + before.members.length * gap <= run.from) break;
      runs.pop();
      const merged = { members: [...before.members, ...run.members], sum: before.sum + run.sum };
      run = { ...merged, from: settle(merged) };
    }
    runs.push(run);
  }
  const placed: number[] = new Array<number>(wanted.length).fill(low);
  for (const run of runs) run.members.forEach((i, k) => (placed[i] = run.from + k * gap));
  return placed;
}
