import type { Note } from "./note.js";
import { listed } from "../units/text.js";

/** Numbers that stand beside each other in the order of their boards; of more, the least and the most are told. */
const TOLD = 4;
const NUMBER = /\d+(?:\.\d+)?/g;

/** Notes that are the same but for a number, as one note for all their boards. */
export function saidOnce(notes: readonly Note[]): Note[] {
  const alike = new Map<string, Note[]>();
  for (const note of notes) {
    const key = note.text.replace(NUMBER, "#");
    alike.set(key, [...(alike.get(key) ?? []), note]);
  }
  return Array.from(alike.values(), (group) => {
    const [first] = group;
    if (group.length === 1) return first!;
    const numbers = group.map(({ text }) => text.match(NUMBER) ?? []);
    const rest = numbers[0]!.map((_, n) => together(numbers.map((row) => row[n]!)));
    const text = first!.text.replace(NUMBER, () => rest.shift()!);
    return { where: listed(group.map(({ where }) => where)), text };
  });
}

function together(numbers: readonly string[]): string {
  const different = [...new Set(numbers)];
  if (different.length === 1) return different[0]!;
  if (numbers.length <= TOLD) return listed(numbers);
  const sorted = different.sort((a, b) => Number(a) - Number(b));
  return `${sorted[0]!} to ${sorted.at(-1)!}`;
}
