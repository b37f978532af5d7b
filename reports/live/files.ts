import { parseDocument } from "yaml";
import { SIZE_LIMIT } from "../../sim/scenario/source.js";
import type { FileText } from "../page/embedded.js";

/** Reads a file that somebody picked or dropped. Throws an Error whose message says what is wrong with it. */
export async function textOf(file: File): Promise<FileText> {
  if (file.size > SIZE_LIMIT) throw new Error(`${file.name}: the file has ${(file.size / 1e6).toFixed(1)} MB; a scenario file is a few ` +
    "pages of text at most");
  try {
    return { file: file.name, text: new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer()) };
  } catch {
    throw new Error(`${file.name}: the file is not UTF-8 text; save it as UTF-8`);
  }
}

/** Of files that were opened together, the scenario first, and behind it those it is based on. */
export function inOrder(files: readonly FileText[]): [FileText, ...FileText[]] {
  const bases = new Map(files.map((file) => [file, baseOf(file.text)] as const));
  const named = new Set(bases.values());
  const chain = [files.find(({ file }) => !named.has(file)) ?? files[0]!];
  for (;;) {
    const next = files.find((file) => file.file === bases.get(chain.at(-1)!) && !chain.includes(file));
    if (next === undefined) return chain as [FileText, ...FileText[]];
    chain.push(next);
  }
}

/** The name of a base without the directory it lies in. */
export function nameOf(base: unknown): string | null {
  return typeof base === "string" ? base.trim().split(/[/\\]/).at(-1)! : null;
}

function baseOf(text: string): string | null {
  return nameOf(parseDocument(text).get("base"));
}

/** Hands a text over as a file. */
export function download({ file, text }: FileText): void {
  const url = URL.createObjectURL(new Blob([text], { type: "application/yaml" }));
  const link = document.createElement("a");
  link.href = url;
  link.download = file;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
