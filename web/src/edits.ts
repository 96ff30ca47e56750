/** What the hand does to an entry, in the model's edits: only the model changes a sheet. */
import { isEntry, isName, mixOf, partsOf, read, type Electrode } from "./entry";
import type { Edit, Origin, Sheet } from "./model/contract";
import { canOf, sidesFrom } from "./size";

/** The key of an entry: a part is called by its name, which stays as others come and go. */
export const keyOf = (sheet: Sheet, path: string): string =>
  path.replace(/^parts\[(\d+)\]/, (all, at: string) => {
    const names = partsOf(sheet).map(({ name }) => name);
    const name = names[Number(at)];
    return name && names.indexOf(name) === names.lastIndexOf(name) ? `parts[${name}]` : all;
  });

/** Writes a text into an entry, whose origin and remark stay; an empty one hands the entry back to the model. */
export function written(sheet: Sheet, path: string, text: string): Edit[] {
  const key = keyOf(sheet, path);
  if (text.trim() === "") return [{ clear: key }];
  return [...unnamed(sheet.can, path), { set: isName(path) ? key : `${key}.value`, to: text }];
}

/** Says where an entry comes from; a default, whose text is `text`, is written for it. */
export function comingFrom(sheet: Sheet, path: string, text: string, from: Origin): Edit[] {
  if (from === "default") return [{ clear: keyOf(sheet, path) }];
  return [...(isEntry(read(sheet, path)) ? [] : written(sheet, path, text)), { set: `${keyOf(sheet, path)}.from`, to: from }];
}

/** A can of which one side is stated is no longer known by its name; its other side stays what the name says. */
function unnamed(can: Sheet["can"], path: string): Edit[] {
  const sides = sidesFrom(can.size ?? "");
  if (!sides || !/^can\.(diameter|height)$/.test(path)) return [];
  const other = path === "can.diameter" ? "height" : "diameter";
  return [...(can[other] ? [] : [{ set: `can.${other}`, to: { value: sides[other], from: "stated" } }]), { clear: "can.size" }];
}

/** The can of a size as it was typed; nothing where it is no size. */
export function sized(size: string): Edit[] {
  const can = canOf(size);
  return can ? (["size", "diameter", "height"] as const).map((side) => (can[side] === undefined ? { clear: `can.${side}` } : { set: `can.${side}`, to: can[side] })) : [];
}

/** The material that an electrode is named after: the first of its mix. */
export const hosted = (sheet: Sheet, electrode: Electrode, material: string): Edit[] =>
  mixOf(sheet, electrode).length > 0 ? [{ set: `${electrode}.mix[0].material`, to: material }] : [{ add: `${electrode}.mix`, item: { material } }];
