/** The small model: what the first screen asks. It comes packed. */
import init, { compare, estimate, sheet, work } from "../../model/first/roulade_wasm.js";
import { serve } from "./serve";
import { unpack } from "./unpack";

serve(({ module_or_path }) => init({ module_or_path: unpack(new Uint8Array(module_or_path)) }), { compare, estimate, sheet, work });
