/** Reading stills, timelines and the tables of builds off a page, and holding them against what other commands print. */
import { barsOf, tells } from "./page-figures.js";

/** A stretch of one scene, seconds from the beginning of its opening. */
export interface Spell {
  readonly opening: number;
  readonly from: number;
  readonly until: number;
  readonly houses: readonly string[];
}

/** The record, as `export --as csv` prints it. */
export function spellsOf(csv: string): Spell[] {
  const begins = new Map<number, number>();
  return csv.trim().split(/\r?\n/).slice(1).map((line) => {
    const [opening, start, end, , , houses] = line.split(",");
    const k = Number(opening);
    if (!begins.has(k)) begins.set(k, Number(start));
    const begin = begins.get(k)!;
    return { opening: k, from: Number(start) - begin, until: Number(end) - begin, houses: houses!.split(" ").filter((id) => id !== "") };
  });
}

interface Told {
  readonly houses: readonly { readonly id: string; readonly name: string; readonly litShare: number }[];
  readonly boards: readonly { readonly id: string; readonly pulses: number }[];
  readonly observed: { readonly days: number };
}

/** What is wrong with the stills of a page: their captions, and the lights in them. */
export function stillFaults(page: Document, told: Told, spells: readonly Spell[]): string[] {
  const scenes = new Map<string, { readonly houses: readonly string[]; time: number }>();
  for (const { from, until, houses } of spells) {
    const key = houses.join(" ");
    const scene = scenes.get(key) ?? { houses, time: 0 };
    scene.time += until - from;
    scenes.set(key, scene);
  }
  const all = [...scenes.values()].filter(({ time }) => time > 0);
  const open = all.reduce((sum, { time }) => sum + time, 0);
  const counts = all.map(({ houses }) => houses.length);
  const away = all.map(({ houses }) =>
    told.houses.reduce((sum, { id, litShare }) => sum + (houses.includes(id) ? 1 - litShare : litShare), 0));
  const least = Math.min(...away);
  const longest = [...all].sort((a, b) => b.time - a.time);
  const [first] = spells;
  const begin = Number(/(\d\d):\d\d/.exec(page.querySelector("#hour-1-title")?.textContent ?? "")?.[1] ?? 0) * 3600;
  const faults: string[] = [];
  const stills = [...page.querySelectorAll("#scenes .stills figure")];
  stills.forEach((figure, i) => {
    const [caption, detail] = [figure.querySelector("strong")!.textContent, figure.querySelector("figcaption")!.lastChild!.textContent!];
    const lit = detail.startsWith("nothing lit") ? 0 : Number(new RegExp(`^(\\d+) of ${told.houses.length} lit`).exec(detail)?.[1]);
    const fault = (wanted: number | string): number => faults.push(`${caption}, ${detail}: ${wanted}`);
    const hold = (wanted: number): void => {
      if (lit !== wanted) fault(wanted);
    };
    const time = /^(\d\d):(\d\d)$/.exec(caption);
    if (time !== null) {
      const at = Number(time[1]) * 3600 + Number(time[2]) * 60 - begin;
      hold(spells.find(({ opening, from, until }) => opening === first!.opening && from <= at && at < until)!.houses.length);
    } else if (caption === "at its brightest") hold(Math.max(...counts));
    else if (caption === "at its darkest") hold(Math.min(...counts));
    else if (caption === "most typical") {
      if (!all.some(({ houses }, scene) => away[scene]! < least + 1e-9 && houses.length === lit)) fault("another scene");
      if (Number(/; ([\d.]+) houses? away/.exec(detail)?.[1]) !== Number(least.toPrecision(2))) fault(least);
    } else {
      const share = longest[i]!.time / open;
      if (!tells(/^(.+) of the open time$/.exec(caption)?.[1] ?? "", share)) fault(share);
      if (!longest.some((scene) => scene.houses.length === lit && Math.abs(scene.time / open - share) < 1e-6)) fault("lit");
    }
    const lights = figure.querySelectorAll("circle").length;
    if (lights !== lit) faults.push(`${caption}: ${lights} lights for ${lit}`);
  });
  if (stills.length < Math.min(all.length, 5)) faults.push(`${stills.length} stills`);
  return faults;
}

/** What is wrong with the rows of a timeline, which shows so much of the first opening: lit stretches, and the boards' steps. */
export function timelineFaults(svg: Element, told: Told, spells: readonly Spell[], seconds: number): string[] {
  const number = (one: Element, name: string): number => Number(one.getAttribute(name));
  const faults: string[] = [];
  const paths = [...svg.querySelectorAll("path")].map((path) => ({ fill: path.getAttribute("fill"), bars: barsOf(path.getAttribute("d")!) }));
  const grounds = [...svg.querySelectorAll("rect")].filter((rect) => number(rect, "height") > 12);
  const rowAt = (y: number): Element => grounds.find((rect) => Math.abs(number(rect, "y") - y) < 6)!;
  const first = spells.filter(({ opening, from }) => opening === spells[0]!.opening && from < seconds);
  const texts = [...svg.querySelectorAll("text[text-anchor=end]")];
  for (const { id, name } of told.houses) {
    const text = texts.find(({ textContent }) => textContent === name);
    if (text === undefined) { faults.push(`no row of ${name}`); continue; }
    const ground = rowAt(number(text, "y") - 13);
    const [left, width] = [number(ground, "x"), number(ground, "width")];
    const at = (time: number): number => left + (Math.min(time, seconds) / seconds) * width;
    const stretches: { from: number; until: number }[] = [];
    for (const { from, until, houses } of first) {
      if (!houses.includes(id)) continue;
      const last = stretches.at(-1);
      if (last !== undefined && Math.abs(last.until - from) < 1e-6) last.until = until;
      else stretches.push({ from, until });
    }
    const wanted = stretches.map(({ from, until }) => ({ x: at(from), width: at(until) - at(from) })).filter((bar) => bar.width >= 0.005);
    const found = paths.filter(({ fill }) => fill === "#f0e442").flatMap(({ bars }) => bars).filter(({ y }) => Math.abs(y - number(ground, "y")) < 3);
    if (found.length !== wanted.length) faults.push(`${name}: ${found.length} bars for ${wanted.length}`);
    else wanted.forEach((bar, i) => {
      const { x, width: wide } = found[i]!;
      if (Math.abs(x - bar.x) > 0.011 || Math.abs(wide - bar.width) > 0.021) faults.push(`${name}: bar ${i} from ${x}, ${wide} wide, for ${bar.x}, ${bar.width}`);
    });
  }
  return faults;
}

/** What is wrong with the strip that tells when a day repeats the day before, and with the sentence over it. */
export function dayFaults(page: Document, spells: readonly Spell[], hours: number): string[] {
  const faults: string[] = [];
  const days = [...new Set(spells.map(({ opening }) => opening))].map((day) => spells.filter(({ opening }) => opening === day));
  const svg = page.querySelector("svg[aria-labelledby^=day-strip]")!;
  const frames = [...svg.querySelectorAll("rect")].slice(1);
  const drawn = [...svg.querySelectorAll("path")].flatMap((path) => barsOf(path.getAttribute("d")!));
  const shares = { first: 0, rest: 0 };
  if (frames.length !== days.length - 1) faults.push(`${frames.length} rows for ${days.length} days`);
  days.slice(1).forEach((day, k) => {
    const [left, width, top] = ["x", "width", "y"].map((name) => Number(frames[k]!.getAttribute(name)));
    let [same, filled] = [0, 0];
    for (const one of day) {
      for (const other of days[k]!) {
        const [from, until] = [Math.max(one.from, other.from), Math.min(one.until, other.until)];
        if (until <= from || one.houses.join(" ") !== other.houses.join(" ")) continue;
        same += until - from;
        shares.first += Math.max(0, Math.min(until, 3600) - from);
        shares.rest += Math.max(0, until - Math.max(from, 3600));
        const x = left! + ((from + until) / 2 / (hours * 3600)) * width!;
        const wide = ((until - from) / (hours * 3600)) * width!;
        if (wide > 0.02 && !drawn.some((bar) => bar.y === top && bar.x <= x && x <= bar.x + bar.width)) faults.push(`day ${k + 2} at ${from} s`);
      }
    }
    for (const bar of drawn) if (bar.y === top) filled += bar.width;
    if (Math.abs(filled / width! - same / (hours * 3600)) > 0.002) faults.push(`day ${k + 2}: ${filled / width!} for ${same / (hours * 3600)}`);
  });
  const said = /for (\S+ %) of the time, and for (\S+ %) of the rest/.exec(page.querySelector("#repeats")!.textContent);
  const [first, rest] = [shares.first / (days.length - 1) / 3600, shares.rest / (days.length - 1) / ((hours - 1) * 3600)];
  if (said === null || !tells(said[1]!, first) || !tells(said[2]!, rest)) faults.push(`"${said?.[0]}" for ${first}, ${rest}`);
  return faults;
}

interface Range {
  readonly p05: number;
  readonly p50: number;
  readonly p95: number;
}
export interface SpreadTold {
  readonly promises: readonly Kept[];
  readonly allKept: Kept;
  readonly figures: Readonly<Record<string, Range | null>>;
  readonly boards: readonly {
    readonly id: string;
    readonly step: Range;
    readonly sources: { readonly parts: readonly { readonly share: number }[]; readonly worstCase: Ends; readonly rootSumSquare: Ends };
  }[];
}
interface Ends {
  readonly min: number;
  readonly max: number;
}
interface Kept {
  readonly text?: string;
  readonly kept: number;
  readonly builds: number;
  readonly share: number;
  readonly low: number;
  readonly high: number;
}

/** What is wrong with what a page says of builds, by what `spread --json` prints of as many. */
export function spreadFaults(page: Document, told: SpreadTold): string[] {
  const faults: string[] = [];
  const hold = (where: string, text: string | undefined, value: number): void => {
    if (text === undefined || !tells(text, value)) faults.push(`${where}: "${text}" for ${value}`);
  };
  const section = page.querySelector("#spread")!;
  const tables = new Map([...section.querySelectorAll("table")].map((table) => [table.querySelector("th")!.textContent, [...table.querySelectorAll("tbody tr")]]));
  const cellsOf = (row: Element): string[] => [...row.querySelectorAll("td")].map(({ textContent }) => textContent);

  const yields = (tables.get("promise") ?? []).map(cellsOf);
  // a display that promises nothing has no table of what is kept
  const kept = told.promises.length === 0 ? [] : [...told.promises, { ...told.allKept, text: "all of them" }];
  if (yields.length !== kept.length) faults.push(`${yields.length} promises`);
  kept.forEach(({ text, kept: count, builds, share, low, high }, i) => {
    const [promise, of, part, range] = yields[i] ?? [];
    if (promise !== text || of !== `${count} of ${builds}`) faults.push(`${promise}, ${of}: ${text}, ${count} of ${builds}`);
    hold(`${text}: share`, part, share);
    const [from, to] = range?.split(" to ") ?? [];
    hold(`${text}: low`, from, low);
    hold(`${text}: high`, to, high);
  });

  const figures = tables.get("figure") ?? [];
  if (figures.length < 10) faults.push(`${figures.length} figures`);
  for (const row of figures) {
    const key = row.getAttribute("data-figure")!.replace(/^spread\./, "");
    const [, below, middle, above] = cellsOf(row);
    const range = told.figures[key];
    if (range === undefined || range === null) { faults.push(key); continue; }
    hold(`${key}: p05`, below, range.p05);
    hold(`${key}: p50`, middle, range.p50);
    hold(`${key}: p95`, above, range.p95);
  }

  const sources = (tables.get("board") ?? []).map(cellsOf);
  const ranges = [...section.querySelectorAll("figure:not(.narrow) text")].flatMap(({ textContent }) => / in nine of ten builds$/.exec(textContent) === null ? [] : [textContent]);
  told.boards.forEach(({ id, step, sources: { parts, rootSumSquare, worstCase } }, i) => {
    const [board, moves, partly, worst] = sources[i] ?? [];
    if (board !== id) faults.push(`${board} for ${id}`);
    const shares = parts.map(({ share }) => share).filter((share) => share > 0);
    const said = [...(moves ?? "").matchAll(/, ([<>]? ?[\d.]+ %)/g)].map(([, share]) => share!);
    if (said.length !== shares.length) faults.push(`${id}: ${moves} for ${shares.length} parts`);
    shares.forEach((share, k) => hold(`${id}: share ${k}`, said[k], share));
    for (const [text, { min, max }] of [[partly, rootSumSquare], [worst, worstCase], [ranges[i]?.replace(" in nine of ten builds", ""), { min: step.p05, max: step.p95 }]] as const) {
      const [from, to = from] = text?.split(" to ") ?? [];
      hold(`${id}: from`, from, min);
      hold(`${id}: to`, to, max);
    }
  });
  return faults;
}
