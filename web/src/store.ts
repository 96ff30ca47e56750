/**
 * What was typed, kept in this browser at each keystroke: for the tab, which a reload or a crash must not empty, and as the last
 * work of all tabs. A browser that keeps nothing (private windows, a full disk) is no reason to stop.
 */

const TAB = "roulade.tab";
const LAST = "roulade.last";

/** Beside each: changes that were asked for and are not in it yet. */
const WAITING = ".waiting";

interface Kept {
  /** The part of the address after `#` when this was kept: another address asks for something else. */
  hash: string;
  state: unknown;
}

const keepText = (name: string, text: string): void => {
  sessionStorage.setItem(TAB + name, text);
  localStorage.setItem(LAST + name, text);
};

/** Whether it could be kept. */
export function keepHere(hash: string, state: unknown): boolean {
  try {
    keepText("", JSON.stringify({ hash, state } satisfies Kept));
    return true;
  } catch {
    return false;
  }
}

/** Changes that the work as it is kept does not hold yet; what was typed may be all that a crash leaves time for. */
export function keepWaiting(changes: unknown[]): void {
  try {
    keepText(WAITING, JSON.stringify(changes));
  } catch {
    // As above.
  }
}

function parsed(storage: () => Storage, name: string): unknown {
  try {
    return JSON.parse(storage().getItem(name) ?? "null");
  } catch {
    return null;
  }
}

function read(storage: () => Storage, name: string): (Kept & { waiting: unknown[] }) | null {
  const stored = parsed(storage, name) as Partial<Kept> | null;
  const waiting = parsed(storage, name + WAITING);
  return stored && typeof stored.hash === "string" && "state" in stored ? { hash: stored.hash, state: stored.state, waiting: Array.isArray(waiting) ? waiting : [] } : null;
}

/** What this tab last kept. */
export const keptInTab = (): ReturnType<typeof read> => read(() => sessionStorage, TAB);
/** What any tab last kept. */
export const keptLast = (): ReturnType<typeof read> => read(() => localStorage, LAST);
