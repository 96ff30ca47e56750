/** The whole model: every change of a sheet, long work, and in the single file everything. */
import init, {
  claim, compare, edit, estimate, sensitivity, map, materials, next, quantities, readable, reconcile, report, resize, sampled, sheet, sweep, template, without, work, attribute,
} from "../../model/whole/roulade_wasm.js";
import type { LongKind } from "./contract";
import { serve, type Long } from "./serve";

// A function for each kind of long work, each by its name.
const long: Pick<Long, LongKind> = { claim, sensitivity, lesson: sweep, map, next, reconcile, report, sampled, sweep, attribute };
serve(init, { compare, estimate, sheet, work }, { edit, materials, quantities, readable, resize, template, without }, long);
