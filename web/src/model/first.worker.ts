/** The small model: what the first screen asks, and every keystroke. */
import init, { compare, estimate, materials, quantities, without } from "../../model/first/roulade_wasm.js";
import { serve } from "./serve";

serve(init, { compare, estimate, materials, quantities, without });
