/** What is written with a mark, and told from what is not whole by it. */

/** The files of one making: which there are depends on the mark, too. */
export function folderOf(mark: number): ReadonlyMap<string, string> {
  const names = ["index.html", "figures.json", ...Array.from({ length: 6 + (mark % 4) }, (_, i) => `${i}.svg`)];
  return new Map(names.map((name) => [name, `${name} of ${mark}`]));
}

/** A text of some length that says its mark from the beginning to the end. */
export function longText(mark: number): string {
  return `${mark}\n`.repeat(10_000);
}

/** Whether a text is such a one, whole. */
export function isWhole(text: string): boolean {
  return text === longText(Number(text.slice(0, text.indexOf("\n"))));
}
