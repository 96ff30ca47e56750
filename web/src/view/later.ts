/** Chapters that the first screen does not show: fetched once its answer stands. */
export { bench } from "./bench";
export { budget } from "./budget";
export { claim } from "./claim";
export { curve } from "./curve";
export { elements } from "./elements";
export { glossary } from "./glossary";
export { ledger } from "./ledger";
export { lesson } from "./lesson";
export { path } from "./path";
export { place } from "./place";
export { roll } from "./roll";
export { sizes } from "./sizes";
export { spread } from "./spread";
export { contributions } from "./contributions";
