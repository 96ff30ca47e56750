/**
 * Runs either model. All that the first screen asks both know; the rest (every change of a sheet, long work) is asked of the whole one
 * alone, which in the single file is there for everything.
 */
import { initSync, attribute, claim, compare, edit, estimate, map, materials, next, quantities, readable, reconcile, report, resize, sampled, sensitivity, sheet, sweep, template, without, work } from "../../model/whole/roulade_wasm.js";
import type { LongKind } from "./contract";
import { serve, type Long } from "./serve";

// A function for each kind of long work, each by its name.
const long: Pick<Long, LongKind> = { claim, sensitivity, lesson: sweep, map, next, reconcile, report, sampled, sweep, attribute };
serve(initSync, { compare, edit, estimate, materials, quantities, readable, resize, sheet, template, without, work }, long);
