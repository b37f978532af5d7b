import type { Document } from "yaml";

const MISPLACED =
  "this line does not go with those around it: begin it in the same column as the keys beside it, one key to a line, with a colon and " +
    "a space behind it";
const BRACKETS = "brackets do not fit here: each { or [ needs its } or ], with commas between what stands inside, and a colon and a " +
  "space behind each key";

/** What is said of slips in YAML, by the parser's codes. */
const WORDS: Readonly<Record<string, string>> = {
  ALIAS_PROPS: "an alias (*) stands for what it names and can have no name or tag of its own",
  BAD_ALIAS: "the name of this alias (*) or anchor (&) ends by a colon or is empty; a text that begins with * or & stands in quotes",
  BAD_COLLECTION_TYPE: "this tag (!) does not go with what stands behind it; take it out",
  BAD_DIRECTIVE: "a line that begins with % says something to the reader of YAML that is not understood here; take it out",
  BAD_DQ_ESCAPE: 'behind \\ stands a letter that means nothing between " and "; write \\\\ for the sign itself, or use single quotes',
  BAD_INDENT: MISPLACED,
  BAD_PROP_ORDER: "a name (&) or tag (!) stands in the wrong place; take it out",
  BAD_SCALAR_START: "a text cannot begin with this sign; put the text in quotes",
  BLOCK_AS_IMPLICIT_KEY: MISPLACED,
  BLOCK_IN_FLOW: "inside of brackets a comma is missing here, or a text with a colon in it stands without quotes",
  IMPOSSIBLE: MISPLACED,
  KEY_OVER_1024_CHARS: "a key has more than 1,024 characters; is a quote or bracket missing before it?",
  MISSING_CHAR: "something that begins in this line or above has no end: look for a quote, a bracket or a comma that is missing",
  MULTILINE_IMPLICIT_KEY: MISPLACED,
  MULTIPLE_ANCHORS: "two names (&) stand for one value; keep one of them",
  MULTIPLE_DOCS: "a second document begins here; keep one in a file",
  MULTIPLE_TAGS: "two tags (!) stand before one value; take them out",
  TAB_AS_INDENT: "a tab stands at the beginning of this line; indent with spaces",
  TAG_RESOLVE_FAILED: "this tag (!) means nothing here; take it out",
  UNEXPECTED_TOKEN: BRACKETS,
};
/** Of what the parser calls missing, the sign: it ends its message with it. */
const MISSING = /(?:closing |end with a |, or |Missing )(["'\]},])(?: |$|quote)/;

/** The first thing that keeps a text from being YAML, with its offset; later ones are mostly its consequences. Null where there is none. */
export function firstError(document: Document.Parsed): { readonly offset: number; readonly message: string } | null {
  const [first] = [...document.errors].sort((a, b) => a.pos[0] - b.pos[0]);
  if (first === undefined) return null;
  const sign = first.code === "MISSING_CHAR" ? MISSING.exec(first.message)?.[1] : undefined;
  const message = sign === undefined ? undefined : `a ${sign} is missing here, or in a line above`;
  return { offset: first.pos[0], message: message ?? WORDS[first.code] ?? MISPLACED };
}
