import { isCollection, isPair, isScalar, isSeq, visit, type Document, type Node, type Pair } from "yaml";

/** Something about the layout of a YAML document that a scenario does not use, with its offset in the text. */
export interface Fault {
  readonly path: readonly (string | number)[];
  readonly offset: number;
  readonly message: string;
  /** Whether the rest of the file can be read in spite of it. */
  readonly harmless: boolean;
  /** Of a key that stands twice, where it stands first. */
  readonly first?: number | undefined;
}

/** Keys in one mapping, or entries in one list, far beyond what a display needs. */
const ENTRIES_LIMIT = 5_000;
/** Mappings and lists within each other, far beyond the six that a scenario has. */
const DEPTH_LIMIT = 30;
export const TOO_DEEP = "lists or mappings are nested too deeply";

type Ancestors = readonly (Document | Node | Pair)[];

/**
 * Keys that stand twice, aliases that lead nowhere, mappings and lists beyond all measure. In one walk, since the
 * parser's own search for equal keys takes a time that grows with the square of their number.
 */
export function structureFaults(document: Document): Fault[] {
  const faults: Fault[] = [];
  if (document.directives?.yaml.explicit === true && document.directives.yaml.version !== "1.2") {
    const message = "the file says that it is of another YAML than 1.2; take its line %YAML out";
    faults.push({ path: [], offset: 0, harmless: false, message });
  }
  const anchors = new Set<string>();
  const note = (node: unknown, path: Ancestors, message: string, first?: number): void => {
    faults.push({ path: keysOf([...path, node as Node]), offset: startOf(node) ?? 0, harmless: first !== undefined, first, message });
  };
  const collection = (node: Node & { items: unknown[]; anchor?: string | undefined; tag?: string | undefined }, path: Ancestors): boolean => {
    if (node.anchor !== undefined) anchors.add(node.anchor);
    if (isForeign(node.tag)) note(node, path, `${node.tag} is a tag that means nothing here; take it out`);
    if (path.filter(isCollection).length >= DEPTH_LIMIT) {
      faults.push({ path: [], offset: startOf(node) ?? 0, harmless: false, message: TOO_DEEP });
      return false;
    }
    const fits = node.items.length <= ENTRIES_LIMIT;
    if (!fits) note(node, path, `${node.items.length} entries; expected at most ${ENTRIES_LIMIT} in one mapping or list`);
    return fits;
  };
  visit(document, {
    Alias(_, node, path) {
      // an anchor counts from where it stands
      if (!anchors.has(node.source)) note(node, path, `*${node.source} leads nowhere: no &${node.source} stands before it`);
    },
    Scalar(_, node, path) {
      if (node.anchor !== undefined) anchors.add(node.anchor);
      if (isForeign(node.tag)) note(node, path, `${node.tag} is a tag that means nothing here; take it out`);
    },
    Seq: (_, node, path) => (collection(node, path) ? undefined : visit.SKIP),
    Map(_, node, path) {
      if (!collection(node, path)) return visit.SKIP;
      const keys = new Map<string, number>();
      for (const pair of node.items) {
        const key = keyText(pair);
        const place = [...path, node, pair];
        if (key === null) {
          // an alias that stands for a word is told by what it leads to
          if (isCollection(pair.key)) {
            note(pair.key, place, "a list or mapping stands here as a key; a key is one word with a colon behind it");
          }
          continue;
        }
        // JavaScript would quietly take this key for something else
        if (key === "__proto__") note(pair.key, place, "this cannot be a name; choose another");
        else if (keys.has(key)) note(pair.key, place, "this key stands twice in one mapping", keys.get(key));
        if (!keys.has(key)) keys.set(key, startOf(pair.key) ?? 0);
      }
      return undefined;
    },
  });
  return faults;
}

/** Whether a tag is another than those of YAML's core schema, which say what a value is anyway. */
function isForeign(tag: string | undefined): boolean {
  return tag !== undefined && !tag.startsWith("tag:yaml.org,2002:");
}

/** Keys and list positions that lead to the last of the nodes. */
function keysOf(nodes: Ancestors): (string | number)[] {
  return nodes.flatMap((node, i): (string | number)[] => {
    const parent = nodes[i - 1];
    const key = isPair(node) ? keyText(node) : null;
    if (key !== null) return [key];
    return isSeq(parent) ? [parent.items.indexOf(node)] : [];
  });
}

/** A key as text; null where it is a mapping or a list. */
export function keyText(pair: Pair): string | null {
  return isScalar(pair.key) ? String(pair.key.value) : null;
}

/** Where a node begins in the text. */
export function startOf(node: unknown): number | null {
  return (node as Node | null | undefined)?.range?.[0] ?? null;
}
