/** The small model: what the first screen asks. */
import init, { compare, estimate, sheet, work } from "../../model/first/roulade_wasm.js";
import { serve } from "./serve";

serve(init, { compare, estimate, sheet, work });
