/** Five explorations for those who do not know yet: a question, what the reader foresees, the plot from the model, and why. */
import { html, nothing, svg, type TemplateResult } from "../template";
import { axisBelow, axisLeft } from "../draw/axis";
import { scale, through, type Scale } from "../draw/scale";
import { begun } from "../demo";
import type { Grid, GridFigure, Sheet, SweepQuestion } from "../model/contract";
import type { Page } from "../page";
import { picture } from "./frame";
import { withTerms } from "./glossary";
import { plot, spoken, type Reading } from "./plot";
import { work } from "./study";
import { choice } from "./table";

interface Lever {
  id: string;
  label: string;
  /** What it can be set to; the first is where it stands. */
  to: [value: string, words: string][];
}

interface Exploration {
  id: string;
  title: string;
  question: string;
  foresee: string[];
  /** Which of them the plot bears out. */
  right: number;
  levers: Lever[];
  asks: (lever: (id: string) => string) => SweepQuestion;
  /** The figures drawn, each over the whole height of its own panel, with words that say what to see. */
  panels: [figure: string, words: string][];
  held: string;
  why: string;
  source: string;
}

const CATHODES: Lever = { id: "cathode", label: "cathode", to: [["NMC811", "nickel-rich NMC811"], ["NMC532", "NMC532"], ["LFP", "iron phosphate LFP"]] };

const EDGE = { cathode: { feed: "edge" as const }, anode: { feed: "edge" as const } };

/** An ordinary cell, made up for learning: what is not said here is the model's default. */
function ordinary(cathode: string, diameter: string, height: string, more: (sheet: Sheet) => Sheet = (sheet) => sheet): Sheet {
  const sheet = begun({ size: `${diameter} × ${height} mm`, cathode, anode: "graphite" });
  // Iron phosphate is full at a lower voltage than the layered oxides.
  const voltage = cathode === "LFP" ? { voltage: { charge_cut_off: "3.55 V", discharge_cut_off: "2.5 V" } } : {};
  return more({ ...sheet, ...voltage, cell: "a cell to learn from", cathode: { ...sheet.cathode, thickness: "70 µm" }, anode: { ...sheet.anode, n_to_p: "1.1" } });
}

const EXPLORATIONS: Exploration[] = [
  {
    id: "size",
    title: "Bigger is not simply better",
    question: "The can gets wider, its height stays. What happens to the energy density?",
    foresee: ["it keeps rising evenly", "it rises, less and less", "it falls"],
    right: 1,
    levers: [{ id: "height", label: "height", to: [["80", "80 mm"], ["65", "65 mm"], ["120", "120 mm"]] }, CATHODES],
    asks: (lever) => ({ sheet: ordinary(lever("cathode"), "21", lever("height"), (sheet) => ({ ...sheet, current_path: EDGE })), along: [{ key: "can.diameter", from: "14 mm", to: "60 mm", steps: 70 }], figures: ["volumetric", "heat.radial", "resistance"] }),
    panels: [["volumetric", "what is gained"], ["heat.radial", "the price, since heat from the core has further to go"], ["resistance", "more electrode side by side"]],
    held: "Held: coatings, a continuous edge (tabless); wall, bottom, core, clearance and lid grow with the diameter as from cell to cell; the can is filled, so the electrode length follows.",
    why: "Wall, core and lid grow more slowly than the diameter, so their share of the volume falls and falls less and less: the gain levels off, and past 45 to 50 mm hardly anything is left of it. The heat path across the layers grows with the radius, and heat made in the volume has to leave through the surface: at the same loss per volume q the core is warmer than the wall by q·R²/(4·λ), four times as much for twice the radius. And a large cell holds more energy beside its neighbour: should one fail, more heat arrives at the next.",
    source: "steady conduction in a cylinder with even heat: textbook formula (Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, ch. 7), from memory",
  },
  {
    id: "walls",
    title: "Walls and hardware",
    question: "A tenth of a millimetre more wall: where does it cost more, in a narrow can or in a wide one?",
    foresee: ["in the narrow can", "in the wide can", "alike in both"],
    right: 0,
    levers: [{ id: "diameter", label: "diameter", to: [["18", "18 mm"], ["21", "21 mm"], ["46", "46 mm"]] }, { id: "height", label: "height", to: [["70", "70 mm"], ["95", "95 mm"]] }],
    asks: (lever) => ({ sheet: ordinary("NMC811", lever("diameter"), lever("height")), along: [{ key: "can.wall", from: "0.1 mm", to: "1 mm", steps: 60 }], figures: ["volumetric", "gravimetric"] }),
    panels: [["volumetric", "what the wall takes from the jelly roll"], ["gravimetric", "steel weighs, and stores nothing"]],
    held: "Held: outer size of the can, coatings, clearances; the jelly roll fills what is left.",
    why: "The inside is π/4·(D − 2·t)²·(H − …). A wall thicker by Δt takes a share of about 4·Δt/D of it: four times as much of an 18 mm can as of a 72 mm can. Along the axis it is the same with the height: every millimetre of cap assembly, plate and crimp is 1/H of the cell. Tall cans hide their hardware.",
    source: "geometry; no source needed",
  },
  {
    id: "thick",
    title: "Thick coatings",
    question: "The coatings get thicker, both of them. Is that always good?",
    foresee: ["energy rises at any rate", "at rest it rises; at a fast discharge there is a best thickness", "energy falls"],
    right: 1,
    levers: [{ id: "rate", label: "discharge rate", to: [["1", "1 C"], ["0.2", "0.2 C"], ["3", "3 C"]] }, CATHODES],
    asks: (lever) => ({
      sheet: ordinary(lever("cathode"), "21", "70", (sheet) => ({ ...sheet, current_path: { c_rate: `${lever("rate")} C` } })),
      along: [{ key: "cathode.thickness", from: "20 µm", to: "160 µm", steps: 70 }],
      figures: ["volumetric", "loaded_volumetric", "heat"],
    }),
    panels: [["volumetric", "at rest: less foil and separator in the same can"], ["loaded_volumetric", "at the rate: what the voltage drop leaves"], ["heat", "what becomes heat"]],
    held: "Held: density of the coatings and N/P ratio, so both electrodes grow; the can is filled, so the electrode gets shorter.",
    why: "Foils and separators carry nothing; a thicker coating needs fewer of them. But the same current then leaves through less area: the voltage drop is I·R with R = areal resistance / area, and the area falls as the coating grows. What this page does not model goes the same way: in a thick coating lithium ions have further to go, and their supply runs out at a C-rate that falls with the square of the thickness.",
    source: "ohmic drop from the areal resistance of the sheet; limiting transport in porous electrodes: textbook (Newman and Thomas-Alyea, Electrochemical Systems, 3rd ed., 2004, ch. 22), from memory",
  },
  {
    id: "silicon",
    title: "Silicon",
    question: "Some of the graphite becomes silicon oxide. What is the price?",
    foresee: ["none: the cell only gets better", "capacity lost in the first cycle, and a thicker anode when charged", "the cell gets heavier"],
    right: 1,
    levers: [{ ...CATHODES, to: CATHODES.to.slice(0, 2) }],
    asks: (lever) => ({
      sheet: ordinary(lever("cathode"), "21", "70", (sheet) => ({ ...sheet, anode: { ...sheet.anode, silicon_oxide: "5 %" } })),
      along: [{ key: "anode.silicon_oxide", from: "0 %", to: "25 %", steps: 40 }],
      figures: ["volumetric", "gravimetric", "balance.irreversible", "swelling.thickness_increase"],
    }),
    panels: [["volumetric", "per volume, discharged"], ["gravimetric", "per mass"], ["balance.irreversible", "lithium bound for good"], ["swelling.thickness_increase", "the anode when full"]],
    held: "Held: N/P ratio and porosity, so the anode gets thinner; the can is filled.",
    why: "An oxide of silicon stores several times the lithium of graphite per gram, so the anode can be thinner and there is room for more cathode. But in the first cycle much lithium is bound in silicates and films and never comes back, and all of it comes from the cathode: past some share (the bend in the curves) the loss eats most of the gain. And silicon swells where graphite hardly does: the jelly roll needs room to grow, which the clearance at the wall has to give.",
    source: "capacities, first-cycle losses and expansion: the table of materials, with its sources, under “Assumptions”",
  },
  {
    id: "tabs",
    title: "Tabs or continuous edge",
    question: "One tab in the middle of the foil, and the electrode gets longer. What happens to the resistance of the metals?",
    foresee: ["it falls, as there is more electrode", "it grows with the length of the foil", "it stays"],
    right: 1,
    levers: [{ id: "feed", label: "current leaves by", to: [["tabs", "one tab in the middle"], ["edge", "the continuous edge (tabless)"]] }, { id: "height", label: "height", to: [["70", "70 mm"], ["95", "95 mm"]] }],
    asks: (lever) => {
      const feed = lever("feed") === "tabs" ? { feed: "tabs" as const, tabs: [{ at: "50 %" }] } : { feed: "edge" as const };
      return { sheet: ordinary("NMC811", "21", lever("height"), (sheet) => ({ ...sheet, current_path: { cathode: feed, anode: feed } })), along: [{ key: "can.diameter", from: "14 mm", to: "60 mm", steps: 60 }], figures: ["resistance.metal", "heat.metal", "volumetric"] };
    },
    panels: [["resistance.metal", "foils, joints, plates"], ["heat.metal", "what they turn into heat at 1 C"]],
    held: "Held: everything but the can’s width, which the electrode’s length follows.",
    why: "Along a foil of length L and width w, fed at one end and drained evenly, the resistance is ρ·L/(3·w·t); a tab in the middle leaves a quarter of that. It grows with the length, and the current grows with it, so the heat grows faster still: from some width on, tabs cannot carry a cell. From a continuous edge the way is the width of the foil and not its length: ρ·w/(3·L·t), which falls as the electrode gets longer.",
    source: "a line evenly drained: textbook (constant current per length, integral of I·dR); resistivities: the table of materials",
  },
];

export function lesson(page: Page): TemplateResult {
  const { shown, studies } = page.state;
  const exploration = EXPLORATIONS.find(({ id }) => id === shown.lesson) ?? (EXPLORATIONS[0] as Exploration);
  const lever = (id: string): string => {
    const of = exploration.levers.find((one) => one.id === id);
    return shown.levers[`${exploration.id}.${id}`] ?? of?.to[0]?.[0] ?? "";
  };
  const asked = exploration.asks(lever);
  const foreseen = shown.foreseen[exploration.id];
  const set = (id: string) => (to: string): void => page.show({ levers: { ...shown.levers, [`${exploration.id}.${id}`]: to } });
  const foresee = (i: number): void => page.show({ foreseen: { ...shown.foreseen, [exploration.id]: String(i) } });
  const next = EXPLORATIONS[EXPLORATIONS.indexOf(exploration) + 1];
  const go = (id: string): void => page.show({ lesson: id, cursor: {} });
  const grid = studies.lesson.asked === JSON.stringify(asked) || studies.lesson.share !== null || studies.lesson.wanted === JSON.stringify(asked) ? studies.lesson.answer : null;
  return html`<section id="lesson">
    <ol class="steps-of">${EXPLORATIONS.map(({ id, title }) => html`<li><button type="button" class="link" aria-current=${id === exploration.id ? "step" : "false"} @click=${() => go(id)}>${title}</button></li>`)}</ol>
    <p class="finding">${exploration.question}</p>
    <fieldset class="radio"><legend class="unseen">What do you expect?</legend>${exploration.foresee.map(
      (words, i) => html`<label><input type="radio" name="foresee-${exploration.id}" .checked=${foreseen === String(i)} @change=${() => foresee(i)} /> ${words}</label>`,
    )}</fieldset>
    ${foreseen === undefined
      ? html`<p class="note">Choose first: the plot follows.</p>`
      : html`<p class="foreseen" role="status">${foreseen === String(exploration.right) ? "Right:" : html`Not quite: <b>${exploration.foresee[exploration.right]}</b>.`} ${foreseen === String(exploration.right) ? exploration.foresee[exploration.right] + "." : nothing}</p>
        <div class="controls">${exploration.levers.map(({ id, label, to }) => choice(`lever-${id}`, label, to, lever(id), set(id)))}</div>
        ${work(page, { kind: "lesson", name: "the plot", asked, quick: true, insight: "lesson" })}
        ${grid && grid.axes[0] ? panels(page, exploration, grid) : nothing}
        <p class="held-line">${exploration.held}</p>
        <p>${withTerms(page, exploration.why)} <small>${exploration.source}.</small></p>
        ${next ? html`<p><button type="button" @click=${() => go(next.id)}>next: ${next.title}</button></p>` : nothing}`}
  </section>`;
}

function panels(page: Page, exploration: Exploration, grid: Grid): TemplateResult {
  const axis = grid.axes[0];
  if (!axis) return html``;
  const { narrow } = page.state.shown;
  const [width, panel] = [narrow ? 340 : 700, narrow ? 150 : 160];
  const shown = exploration.panels.flatMap(([id, words]) => {
    const figure = grid.figures.find((one) => one.id === id);
    return figure ? [{ figure, words }] : [];
  });
  const height = shown.length * panel + 34;
  const x = scale(axis.values[0] ?? 0, axis.values.at(-1) ?? 1, 58, width - 16, narrow ? 5 : 9);
  const ups = shown.map(({ figure }, i) => upward(figure, i * panel, panel));
  const at = (i: number): Reading => ({
    marks: shown.flatMap(({ figure }, k) => (figure.values[i] === null || figure.values[i] === undefined ? [] : [{ x: x(axis.values[i] ?? 0), y: ups[k]?.(figure.values[i] ?? 0) ?? 0, colour: "var(--second)" }])),
    across: { from: 20, to: height - 40 },
    words: `${axis.label.replace(/^.*: /, "")} ${spoken(axis.values[i], axis.unit, 3)}: ${shown.map(({ figure }) => `${figure.label} ${spoken(figure.values[i], figure.unit)}`).join(", ")}`,
  });
  const drawing = svg`${shown.map(({ figure, words }, k) => {
    const y = ups[k];
    if (!y) return nothing;
    const runs: [number, number][][] = [[]];
    figure.values.forEach((value, i) => (value === null ? runs.push([]) : runs.at(-1)?.push([x(axis.values[i] ?? 0), y(value)])));
    return svg`<text class="strong" x="8" y=${k * panel + 14}>${figure.label}, ${figure.unit}${narrow ? "" : `: ${words}`}</text>${axisLeft(y, 58, width - 16, "")}${runs.map((run) => svg`<path d=${through(run)} fill="none" stroke="var(--second)" stroke-width="2.2" />`)}`;
  })}${axisBelow(x, height - 40, `${axis.label.replace(/^.*: /, "")}, ${axis.unit}`)}`;
  return picture(page, {
    id: "lesson-picture",
    title: exploration.title,
    drawing: plot(page, { id: "lesson-picture", width, height, drawing, steps: axis.values.length, at }),
    caption: html`From the model of this page, for an ordinary cell made up for learning; grey entries are its defaults.`,
    behind: () => ({ heads: [`${axis.label}, ${axis.unit}`, ...shown.map(({ figure }) => `${figure.label}, ${figure.unit}`)], rows: axis.values.map((value, i) => [value, ...shown.map(({ figure }) => figure.values[i] ?? null)]) }),
  });
}

function upward(figure: GridFigure, top: number, panel: number): Scale {
  const known = figure.values.filter((value) => value !== null);
  const [low, high] = [Math.min(...known), Math.max(...known)];
  return scale(low, high, top + panel - 16, top + 26, 4);
}
