/**
 * Templates: markup with gaps, written as html`<p>${words}</p>`, and drawn so that only gaps whose value has changed are touched.
 * Markup is what stands in the code and nothing else; a value is shown as text, or stands in an attribute.
 *
 * A gap between tags takes text, a template, a list of these, or `nothing`. In a tag it is an attribute, one that is there or
 * not (`?disabled`), a property (`.value`) or a listener (`@click`). Attributes in which something stands beside a gap are quoted.
 */

export class Template {
  constructor(
    readonly strings: TemplateStringsArray,
    readonly values: unknown[],
    readonly svg: boolean,
  ) {}
}

export type TemplateResult = Template;
export type SVGTemplateResult = Template;

export const html = (strings: TemplateStringsArray, ...values: unknown[]): Template => new Template(strings, values, false);
/** For what stands inside an `svg` element. */
export const svg = (strings: TemplateStringsArray, ...values: unknown[]): Template => new Template(strings, values, true);

/** Shows nothing; an attribute is not there. */
export const nothing = Symbol("nothing");

/** Leaves a gap between tags as it is. */
export const unchanged = Symbol("unchanged");

class Guarded {
  constructor(
    readonly shows: unknown[],
    readonly make: () => unknown,
  ) {}
}

/** Made anew only when something that it shows is another. */
export const guard = (shows: unknown[], make: () => unknown): unknown => new Guarded(shows, make);

class Keyed {
  constructor(readonly items: [key: unknown, value: unknown][]) {}
}

/** A list whose items keep their elements, by their keys, as others come and go. */
export const repeat = <T>(list: T[], key: (one: T, at: number) => unknown, show: (one: T, at: number) => unknown): unknown => new Keyed(list.map((one, at) => [key(one, at), show(one, at)]));

class Live {
  constructor(readonly value: unknown) {}
}

/** For a property that people change too: it is compared with what it is now. */
export const live = (value: unknown): unknown => new Live(value);

type Put = (value: unknown) => void;

/** Where values go: the number of a node in its template, and for an attribute its name and what stands around its gaps. */
interface Gap {
  at: number;
  name: string;
  around: string[];
}

interface Compiled {
  content: DocumentFragment;
  gaps: Gap[];
}

/** A letter that no text has: it stands for a value in an attribute. */
const HERE = "\ue000";

const compiled = new WeakMap<TemplateStringsArray, Compiled>();

function walk(of: DocumentFragment, see: (node: Element | Comment, at: number) => void): void {
  const walker = document.createTreeWalker(of, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_COMMENT);
  for (let at = 0; walker.nextNode(); at++) see(walker.currentNode as Element | Comment, at);
}

function compile({ strings, svg }: Template): Compiled {
  // The parser makes small letters of names.
  const names: string[] = [];
  const markup = strings.reduce((before, string) => {
    const inTag = before.lastIndexOf("<") > before.lastIndexOf(">");
    if (inTag) names.push(/([^\s="]+)=(?:"[^"]*)?$/.exec(before)?.[1] ?? "");
    return before + (inTag ? HERE : "<!---->") + string;
  });
  const template = document.createElement("template");
  template.innerHTML = svg ? `<svg>${markup}</svg>` : markup;
  const { content } = template;
  if (svg) content.replaceChildren(...(content.firstChild?.childNodes ?? []));
  const gaps: Gap[] = [];
  let seen = 0;
  walk(content, (node, at) => {
    if (node instanceof Comment) gaps.push({ at, name: "", around: [] });
    else
      for (const { name, value } of [...node.attributes]) {
        const around = value.split(HERE);
        if (around.length === 1) continue;
        gaps.push({ at, name: names[seen] ?? "", around });
        seen += around.length - 1;
        node.removeAttribute(name);
      }
  });
  const made = { content, gaps };
  compiled.set(strings, made);
  return made;
}

/** Fresh nodes of a template, and what puts values into them, in the order of its gaps. */
function grow(template: Template): [nodes: DocumentFragment, put: Put[]] {
  const { content, gaps } = compiled.get(template.strings) ?? compile(template);
  const nodes = document.importNode(content, true);
  const put: Put[] = [];
  let next = 0;
  walk(nodes, (node, at) => {
    for (let gap = gaps[next]; gap?.at === at; gap = gaps[++next]) {
      if (node instanceof Comment) {
        const place = new Place(node);
        put.push((value) => place.set(value));
      } else put.push(...attribute(node, gap));
    }
  });
  return [nodes, put];
}

function attribute(element: Element, { name, around }: Gap): Put[] {
  const bare = name.slice(1);
  let was: unknown = nothing;
  if (name[0] === "@") {
    let now: unknown;
    const listener = (event: Event): void => (typeof now === "function" ? now.call(element, event) : (now as EventListenerObject).handleEvent(event));
    return [(value) => {
      // A listener that is an object has its options with it.
      if (now === undefined) element.addEventListener(bare, listener, value as AddEventListenerOptions);
      now = value;
    }];
  }
  if (name[0] === "?") return [(value) => was !== (was = Boolean(value)) && element.toggleAttribute(bare, Boolean(value))];
  if (name[0] === ".") {
    const held = element as unknown as Record<string, unknown>;
    return [(value) => {
      const [is, before] = value instanceof Live ? [value.value, held[bare]] : [value, was];
      if (is !== before) held[bare] = is;
      was = is;
    }];
  }
  const values: unknown[] = [];
  const last = around.length - 2;
  return around.slice(1).map((_, i): Put => (value) => {
    values[i] = value;
    if (i < last) return;
    const is = values.includes(nothing) ? nothing : around.reduce((text, piece, at) => `${text}${values[at - 1] ?? ""}${piece}`);
    if (is === was) return;
    was = is;
    if (typeof is === "string") element.setAttribute(name, is);
    else element.removeAttribute(name);
  });
}

/** A gap between tags: what is shown there stands before the comment `end`. */
class Place {
  #text: Text | null = null;
  #strings: TemplateStringsArray | null = null;
  #put: Put[] = [];
  #items: Map<unknown, Place> | null = null;
  #shows: unknown[] | null = null;

  constructor(
    readonly end: Comment,
    /** Only text is known without a comment before it. */
    public start: Comment | null = null,
  ) {}

  set(value: unknown): void {
    if (value === unchanged) return;
    const shown = this.#shows;
    if (value instanceof Guarded) {
      if (shown?.length === value.shows.length && shown.every((one, i) => one === value.shows[i])) return;
      this.set(value.make());
      this.#shows = value.shows;
      return;
    }
    this.#shows = null;
    if (value instanceof Template) this.#template(value);
    else if (value instanceof Keyed) this.#list(value.items);
    else if (Array.isArray(value)) this.#list(value.map((one, at) => [at, one]));
    else this.#words(value === nothing ? "" : String(value ?? ""));
  }

  #words(text: string): void {
    if (this.#text && text) {
      if (this.#text.data !== text) this.#text.data = text;
      return;
    }
    this.#clear();
    if (text) this.end.before((this.#text = new Text(text)));
  }

  #template(template: Template): void {
    const { strings, values } = template;
    const fresh = this.#strings !== strings;
    const [nodes, put] = fresh ? grow(template) : [null, this.#put];
    for (const [i, value] of values.entries()) put[i]?.(value);
    if (!nodes) return;
    this.#clear();
    this.#begin();
    this.end.before(nodes);
    [this.#strings, this.#put] = [strings, put];
  }

  #list(list: [key: unknown, value: unknown][]): void {
    if (!this.#items) this.#clear();
    const items = (this.#items ??= new Map<unknown, Place>());
    const keys = new Set(list.map(([key]) => key));
    for (const [key, item] of items) {
      if (keys.has(key)) continue;
      for (const node of item.#nodes()) node.remove();
      items.delete(key);
    }
    let next = this.#begin().nextSibling as ChildNode;
    for (const [key, value] of list) {
      let item = items.get(key);
      if (!item) {
        item = new Place(new Comment(), new Comment());
        items.set(key, item);
        next.before(item.start as Comment, item.end);
      } else if (item.start !== next) next.before(...item.#nodes());
      item.set(value);
      next = item.end.nextSibling as ChildNode;
    }
  }

  /** All nodes of an item, with both of its comments. */
  #nodes(): ChildNode[] {
    const nodes: ChildNode[] = [];
    for (let node: ChildNode | null = this.start; node; node = node === this.end ? null : node.nextSibling) nodes.push(node);
    return nodes;
  }

  #begin(): Comment {
    if (!this.start) this.end.before((this.start = new Comment()));
    return this.start;
  }

  #clear(): void {
    if (this.start) while (this.end.previousSibling !== this.start) this.end.previousSibling?.remove();
    else this.#text?.remove();
    this.#text = this.#strings = this.#items = null;
  }
}

const places = new WeakMap<Element, Place>();

/** Shows a value in an element, after what stands in it; the next call changes what is another then. */
export function render(value: unknown, within: Element): void {
  const place = places.get(within) ?? new Place(within.appendChild(new Comment()));
  places.set(within, place);
  place.set(value);
}
