/** Reading the figures off a page, and holding them against what is printed for programs. */

/** A text that tells a figure, by the place of the figure in figures.json. */
interface Told {
  readonly figure: string;
  readonly text: string;
}

/** A mark that is as long or as high as figures are, and the words of the axes beside it. */
interface Drawn {
  readonly figure: string;
  readonly d: string;
  readonly words: readonly { readonly text: string; readonly x: number; readonly y: number; readonly anchor: string }[];
  /** Figures that are told in the same picture, in its order. */
  readonly told: readonly string[];
}

export interface PageFigures {
  readonly texts: readonly Told[];
  readonly rows: readonly { readonly figure: string; readonly cells: Readonly<Record<string, string>> }[];
  readonly drawn: readonly Drawn[];
  /** The sentences with which the page begins and sums up. */
  readonly sentences: readonly string[];
}

/** Every figure on a page. It stands by itself, so that it can be sent into a browser. */
export function figuresOn(page: Document): PageFigures {
  const all = [...page.querySelectorAll("[data-figure]")].filter((one) => one.closest(".small, .comparison") === null);
  const named = (one: Element): string => one.getAttribute("data-figure")!;
  const number = (one: Element, name: string): number => Number(one.getAttribute(name));
  return {
    texts: all.filter(({ localName }) => localName === "text").map((one) => ({ figure: named(one), text: one.textContent })),
    rows: all.filter(({ localName }) => localName === "tr").map((row) => {
      const headings = [...row.closest("table")!.querySelectorAll("th")].map(({ textContent }) => textContent);
      const cells = [...row.querySelectorAll("td")].map(({ textContent }, i) => [headings[i]!, textContent.trim()] as const);
      return { figure: named(row), cells: Object.fromEntries(cells) };
    }),
    drawn: all.filter(({ localName }) => localName === "path").map((path) => {
      const texts = [...path.closest("svg")!.querySelectorAll("text")];
      return {
        figure: named(path),
        d: path.getAttribute("d")!,
        words: texts.map((one) => ({ text: one.textContent, x: number(one, "x"), y: number(one, "y"), anchor: one.getAttribute("text-anchor") ?? "start" })),
        told: texts.filter((one) => one.hasAttribute("data-figure")).map(named),
      };
    }),
    sentences: [...page.querySelectorAll(".verdicts li, #found li, #repeats > p")].map(({ textContent }) => textContent),
  };
}

const LENGTHS: Readonly<Record<string, number>> = { "µs": 1e-6, ms: 1e-3, s: 1, min: 60, h: 3600, d: 86_400 };
const PREFIXES: Readonly<Record<string, number>> = { n: 1e-9, "µ": 1e-6, m: 1e-3, "": 1, k: 1e3, M: 1e6, G: 1e9 };

/** What a text says of a number, and how far the number may be from it, by the digits that are printed; null: it says none. */
function said(text: string): { readonly value: number; readonly within: number } | null {
  const sides = /^([<>]) ([\d.]+) %$/.exec(text);
  if (sides !== null) return sides[1] === "<" ? { value: 5e-5, within: 5e-5 } : { value: 0.9995, within: 5e-4 };
  const share = /^([\d.]+) %$/.exec(text);
  if (share !== null) return { value: Number(share[1]) / 100, within: Number(share[1]) < 1 ? 5.01e-5 : 5.01e-4 };
  if (text === "< 0.1 s") return { value: 0.05, within: 0.05 };
  const two = /^(\d+) (d|h|min)(?: (\d+) (h|min|s))?$/.exec(text);
  if (two !== null) {
    const [, large = "", unit = "", small = "0"] = two;
    const less = { d: 3600, h: 60, min: 1 }[unit]!;
    return { value: Number(large) * LENGTHS[unit]! + Number(small) * less, within: less / 2 + 1e-9 };
  }
  const short = /^([\d.]+) (µs|ms|s)$/.exec(text);
  if (short !== null) return digits(Number(short[1]), LENGTHS[short[2]!]!);
  const size = /^(?:at least )?([\d.]+) ([nµmkMG]?)[AVWΩ]$/.exec(text);
  if (size !== null) return digits(Number(size[1]), PREFIXES[size[2]!]!);
  const plain = /^(?:at least )?([\d.]+)(?: [a-z]+)?$/.exec(text);
  return plain === null ? null : digits(Number(plain[1]), 1);
}

/** A number of three digits that count, or a whole one. */
function digits(value: number, unit: number): { value: number; within: number } {
  return { value: value * unit, within: value > 999 && Number.isInteger(value) ? 10 ** (String(value).length - 3) * unit * 0.501 : Math.abs(value * unit) * 0.00501 };
}

/** Whether a text tells a number, as exactly as it is printed. */
export function tells(text: string, value: number): boolean {
  const found = said(text);
  return found !== null && Math.abs(found.value - value) <= found.within;
}

/** The value at a place such as `houses[3].litShare`. */
export function at(told: unknown, figure: string): unknown {
  return figure.split(/[.[\]]+/).filter((key) => key !== "").reduce((of, key) => (of as Record<string, unknown> | undefined)?.[key], told);
}

/** Every number in what is printed, however deep. */
export function numbersIn(told: unknown): number[] {
  if (typeof told === "number") return [told];
  return typeof told === "object" && told !== null ? Object.values(told).flatMap(numbersIn) : [];
}

const TOKEN = /(?:[<>] )?[\d.]*\d %|\d+ (?:d|h|min)(?: \d+ (?:h|min|s))?(?![a-z])|[\d.]*\d (?:µs|ms|s)(?![a-z])|[\d.]*\d/g;

/** The numbers that a sentence says, each with its unit; what it quotes is not its own. */
export function tokensOf(sentence: string): string[] {
  return sentence.replaceAll(/“[^”]*”/g, "").match(TOKEN) ?? [];
}

/** From a value to pixels, by the two outermost words of an axis. */
function axis(ticks: readonly { readonly value: number; readonly pixel: number }[]): (value: number) => number {
  const [first, last] = [ticks[0]!, ticks.at(-1)!];
  return (value) => first.pixel + ((value - first.value) / (last.value - first.value)) * (last.pixel - first.pixel);
}

/** Shares up the left side of a picture. */
export function upAxis({ words }: Drawn): (share: number) => number {
  const shares = words.filter(({ text, anchor, x }) => anchor === "end" && x < 60 && /^[\d.]+ %$/.test(text));
  // a word's baseline lies four pixels under its line
  return axis(shares.map(({ text, y }) => ({ value: Number.parseFloat(text) / 100, pixel: y - 4 })));
}

/** The words in the lowest line but one, along which a picture counts. */
export function alongAxis({ words }: Drawn, valueOf: (text: string) => number | undefined): (value: number) => number {
  const foot = Math.max(...words.filter(({ text }) => valueOf(text) !== undefined).map(({ y }) => y));
  return axis(words.filter(({ text, y }) => y === foot && valueOf(text) !== undefined).map(({ text, x }) => ({ value: valueOf(text)!, pixel: x })));
}

/** A duration in words, seconds. */
export function secondsOf(text: string): number | undefined {
  if (text === "0") return 0;
  return /^\d+ (?:h|min|s)/.test(text) ? said(text)?.value : undefined;
}

/** Corners of a line. */
export function cornersOf(d: string): { x: number; y: number }[] {
  return Array.from(d.matchAll(/[ML]([\d.-]+),([\d.-]+)/g), ([, x, y]) => ({ x: Number(x), y: Number(y) }));
}

/** Bars of a path, in order. */
export function barsOf(d: string): { x: number; y: number; width: number; height: number }[] {
  return Array.from(d.matchAll(/M([\d.-]+) ([\d.-]+)h([\d.-]+)v([\d.-]+)/g), ([, x, y, width, height]) => ({ x: Number(x), y: Number(y), width: Number(width), height: Number(height) }));
}
