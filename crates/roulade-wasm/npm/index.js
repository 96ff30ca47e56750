/**
 * The model, loaded into this thread: one function for each question, objects in, objects out. The text between JavaScript
 * and the model is that of the files and of the command line's --json.
 */

/** What is wrong with a question: every problem at once, each with its place. */
export class Problems extends Error {
  constructor(problems) {
    super(problems.map(({ text }) => text).join("\n"));
    this.name = "Problems";
    this.problems = problems;
  }
}

/** The bytes of a module that lies beside this file: from the disk in Node, over the network elsewhere. */
async function bytes(address) {
  if (address.protocol === "file:" && typeof process === "object") {
    const { readFile } = await import("node:fs/promises");
    return readFile(address);
  }
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(`${address}: ${answer.status} ${answer.statusText}`);
  return answer.arrayBuffer();
}

/** One object in, an object out; where the question cannot be answered, all that is wrong with it is thrown. */
function answered(text) {
  const answer = JSON.parse(text);
  if ("problems" in answer) throw new Problems(answer.problems);
  return answer.ok;
}

/** A sheet or question as it is written, or as an object. */
const written = (question) => (typeof question === "string" ? question : JSON.stringify(question));

const SHORT = ["estimate", "without", "edit", "resize", "template"];
const TABLES = ["materials", "quantities", "readable"];
const LONG = ["claim", "sensitivity", "map", "next", "reconcile", "sampled", "sweep", "attribute"];

/** The functions of a module as they are handed out. */
export function functions(module) {
  const model = {};
  for (const name of SHORT) if (module[name]) model[name] = (question) => answered(module[name](written(question)));
  for (const name of TABLES) if (module[name]) model[name] = () => answered(module[name]());
  for (const name of LONG)
    if (module[name]) model[name] = (question, tell = () => {}) => answered(module[name](written(question), tell));
  model.compare = (first, second) => answered(module.compare(written(first), written(second)));
  if (module.report) model.report = (question, tell = () => {}) => answered(module.report(written(question), tell));
  return model;
}

/**
 * Loads the whole model, or with `first` the small one, which estimates and compares and is a third of the size.
 * `from` are its bytes, where the caller has them.
 */
export async function load({ first = false, from } = {}) {
  const module = first ? await import("./first/roulade_wasm.js") : await import("./whole/roulade_wasm.js");
  const address = first ? new URL("./first/roulade_wasm_bg.wasm", import.meta.url) : new URL("./whole/roulade_wasm_bg.wasm", import.meta.url);
  await module.default({ module_or_path: from ?? (await bytes(address)) });
  return functions(module);
}

/**
 * The same model in a worker of its own, so that long work leaves this thread free: every function gives a promise, `tell`
 * is called with how much is done, and `end` stops the worker and all that it was asked.
 */
export function inWorker() {
  const worker = new Worker(new URL("./worker.js", import.meta.url), { type: "module" });
  const waiting = new Map();
  let count = 0;
  const fail = (error) => {
    for (const { refuse } of waiting.values()) refuse(error);
    waiting.clear();
  };
  worker.addEventListener("error", (event) => fail(new Error(event.message || "the worker could not be started")));
  worker.addEventListener("message", ({ data: { id, done, of, ok, problems, broken } }) => {
    const asked = waiting.get(id);
    if (!asked) return;
    if (of !== undefined) return asked.tell(done, of);
    waiting.delete(id);
    if (problems) asked.refuse(new Problems(problems));
    else if (broken) asked.refuse(new Error(broken));
    else asked.answer(ok);
  });
  const ask = (name, questions, tell = () => {}) =>
    new Promise((answer, refuse) => {
      waiting.set(++count, { answer, refuse, tell });
      worker.postMessage({ id: count, name, questions: questions.map(written) });
    });
  const model = { compare: (first, second) => ask("compare", [first, second]) };
  for (const name of SHORT) model[name] = (question) => ask(name, [question]);
  for (const name of TABLES) model[name] = () => ask(name, []);
  for (const name of [...LONG, "report"]) model[name] = (question, tell) => ask(name, [question], tell);
  model.end = () => {
    worker.terminate();
    fail(new Error("the worker was ended"));
  };
  return model;
}
