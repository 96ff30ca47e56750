/** Puts what stayed the same in a new answer back to what it was, so that blocks can tell by identity that nothing changed. */
export function keep<T>(old: unknown, fresh: T): T {
  if (Object.is(old, fresh)) return fresh;
  if (typeof old !== "object" || typeof fresh !== "object" || old === null || fresh === null) return fresh;
  if (Array.isArray(old) !== Array.isArray(fresh)) return fresh;
  const [was, is] = [old as Record<string, unknown>, fresh as Record<string, unknown>];
  const keys = Object.keys(is);
  let same = Object.keys(was).length === keys.length;
  for (const key of keys) {
    const kept = keep(was[key], is[key]);
    if (kept === was[key] && key in was) is[key] = kept;
    else same = false;
  }
  return same ? (old as T) : fresh;
}
