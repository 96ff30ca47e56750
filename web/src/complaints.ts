/** What went wrong, in one line of words. */
import type { Problem } from "./model/contract";

/** Problems that are told in one message; the rest are counted. */
const MOST_TOLD = 3;

export const inWords = (problems: Problem[]): string =>
  problems.slice(0, MOST_TOLD).map(({ text }) => text).join("; ") + (problems.length > MOST_TOLD ? `; and ${problems.length - MOST_TOLD} more` : "");

export const wordsOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));
