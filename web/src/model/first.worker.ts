/** The small model: what the first screen asks, and every keystroke. */
import init, { compare, edit, estimate, materials, quantities, sheet, without, work } from "../../model/first/roulade_wasm.js";
import { serve } from "./serve";

serve(init, { compare, edit, estimate, materials, quantities, sheet, without, work });
