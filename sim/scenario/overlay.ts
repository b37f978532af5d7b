export type Mapping = Readonly<Record<string, unknown>>;

/**
 * The data of a base with that of a variant laid over it: mappings merge key by key, whatever else the variant has
 * takes the place of what the base has, and null takes it away. Null where the base has nothing stays: a house that is
 * just a house.
 */
export function overlaid(base: unknown, variant: unknown): unknown {
  if (!isMapping(base) || !isMapping(variant)) return variant;
  const merged = new Map(Object.entries(base));
  for (const [key, value] of Object.entries(variant)) {
    if (value === null && merged.has(key)) merged.delete(key);
    else merged.set(key, merged.has(key) ? overlaid(merged.get(key), value) : value);
  }
  return Object.fromEntries(merged);
}

/** Whether what is to be said about a path belongs to the base: where the variant does not reach, and the base does. */
export function comesFromBelow(variant: unknown, base: unknown, path: readonly (string | number)[]): boolean {
  let own = variant;
  let below = base;
  for (const key of path) {
    // what is no mapping on both sides was not merged: all that is in it stands in the variant
    if (!isMapping(own) || !isMapping(below)) return false;
    if (!Object.hasOwn(own, key)) return Object.hasOwn(below, key);
    own = own[key];
    below = Object.hasOwn(below, key) ? below[key] : undefined;
  }
  return false;
}

export function isMapping(value: unknown): value is Mapping {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
