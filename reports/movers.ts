/** What moves a step time, by the last word of its name in a build. */
const WORDS: Readonly<Record<string, string>> = {
  c: "the capacitor",
  ra: "resistor RA",
  rb: "resistor RB",
  trimmer: "the knob's track",
  chip: "the timer chip",
  leakage: "the capacitor's leakage",
  reading: "reading the stopwatch",
  quartz: "the quartz",
};

/** "the capacitor" for "quay.c"; the name as it is where there is no better word. */
export function moverInWords(part: string): string {
  const name = part.slice(part.lastIndexOf(".") + 1);
  return Object.hasOwn(WORDS, name) ? WORDS[name]! : part;
}
