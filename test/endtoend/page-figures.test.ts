/** Every figure on the page against figures.json and what `check --json` prints: as it is written, and as the page works it out. */
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { JSDOM } from "jsdom";
import { describe, expect, test, vi } from "vitest";
import { browser, noBrowser, widen } from "./browser.js";
import { demo, demos, scratch } from "./command.js";
import { demoPages } from "./demopages.js";
import { thorough } from "../thorough.js";
import { lampdrift } from "./inprocess.js";
import { dayFaults, spellsOf, spreadFaults, stillFaults, timelineFaults, type SpreadTold } from "./page-pictures.js";
import { alongAxis, at, barsOf, cornersOf, figuresOn, numbersIn, secondsOf, tells, tokensOf, upAxis, type PageFigures } from "./page-figures.js";

vi.setConfig({ testTimeout: 60_000 });

const chromium = browser();
const pages = await demoPages();
type Demo = (typeof demos)[number];

interface Printed {
  readonly boards: readonly { readonly id: string; readonly pulses: number }[];
  readonly houses: readonly { readonly id: string; readonly name: string; readonly litShare: number }[];
  readonly lit: { readonly min: number; readonly max: number; readonly shares: readonly number[] };
  readonly repeat: { readonly curve: readonly Point[]; readonly echoes: readonly Point[] };
  readonly visit: { readonly repeatCurve: readonly Point[] };
  readonly promises: readonly { readonly value: number | null; readonly limit: number; readonly kept: boolean }[];
  readonly ratings: readonly unknown[];
  readonly observed: { readonly days: number };
}
interface Point {
  readonly afterSeconds?: number;
  readonly staySeconds?: number;
  readonly share: number | null;
}

async function printed(name: Demo): Promise<Printed> {
  const folder = await pages.report(name);
  const figures = JSON.parse(await readFile(join(folder, "figures.json"), "utf8")) as Printed;
  const names = (await readFile(join(folder, "houses.csv"), "utf8")).trim().split(/\r?\n/).slice(1).map((line) => line.split(",")[1]!);
  const { ratings } = JSON.parse((await lampdrift(["check", demo(name), "--json"])).stdout) as Printed;
  return { ...figures, ratings, houses: figures.houses.map((house, i) => ({ ...house, name: names[i]! })) };
}

/** Columns of the tables, and the keys that they tell. */
const COLUMNS: Readonly<Record<string, string>> = {
  step: "stepSeconds", "first step": "firstStepSeconds", cycle: "cycleSeconds", "clock pulses": "pulses",
  found: "value", limit: "limit", value: "value", "share of the limit": "share",
};

/** What is wrong with the figures of a page. */
function faultsOf({ texts, rows, drawn, sentences }: PageFigures, told: Printed): string[] {
  const faults: string[] = [];
  const hold = (where: string, text: string, value: unknown): void => {
    if (typeof value !== "number" || !tells(text, value)) faults.push(`${where}: "${text}" for ${String(value)}`);
  };
  for (const { figure, text } of texts) {
    const value = at(told, figure);
    if (!figure.startsWith("repeat.echoes") && !figure.startsWith("visit.")) hold(figure, text.replace(/^pure chance: /, ""), value);
    else {
      const [when, share] = text.split(": ");
      hold(figure, share!, typeof value === "number" ? value : (value as Point).share);
      hold(figure, when!, typeof value === "number" ? at(told, "visit.staySeconds") : (value as Point).afterSeconds);
    }
  }
  for (const { figure, cells } of rows) {
    for (const [column, text] of Object.entries(cells)) {
      const key = COLUMNS[column];
      if (key !== undefined) hold(`${figure}.${key}`, text.replace("does not arise", ""), at(told, `${figure}.${key}`));
      if (column === "verdict") {
        const { kept, verdict } = at(told, figure) as { kept?: boolean; verdict?: string };
        if (text !== (verdict ?? (kept! ? "kept" : "broken"))) faults.push(`${figure}: ${text}`);
      }
    }
  }
  for (const mark of drawn) {
    if (mark.figure === "lit.shares") {
      const up = upAxis(mark);
      const { min, max, shares } = told.lit;
      const bars = barsOf(mark.d);
      if (bars.length !== max - min + 1) faults.push(`${bars.length} bars for ${min} to ${max}`);
      bars.forEach(({ y }, i) => Math.abs(y - up(shares[min + i]!)) > 0.02 && faults.push(`lit.shares[${min + i}] at ${y}`));
    } else if (mark.figure === "houses[].litShare") {
      const along = alongAxis(mark, (text) => (/^[\d.]+ %$/.test(text) ? Number.parseFloat(text) / 100 : undefined));
      const shares = mark.told.filter((figure) => figure.endsWith(".litShare")).map((figure) => at(told, figure) as number).filter((share) => share > 0);
      const bars = barsOf(mark.d);
      if (bars.length !== shares.length) faults.push(`${bars.length} bars for ${shares.length} houses`);
      bars.forEach(({ x, width }, i) => Math.abs(x + width - along(shares[i]!)) > 0.03 && faults.push(`bar ${i} ends at ${x + width}`));
    } else {
      const points = at(told, mark.figure);
      if (Array.isArray(points)) faults.push(...curveFaults(mark, points as Point[]));
      else faults.push(`${mark.figure}: neither a curve nor bars that are known here; hold them against ${mark.figure} of figures.json`);
    }
  }
  const known = [...numbersIn(told), told.houses.length, told.promises.length, told.repeat.echoes.length, told.promises.filter(({ kept }) => !kept).length];
  // up to three hours, every 15 s
  for (const sentence of sentences) {
    // what would be with another jitter is no figure of this display
    for (const token of tokensOf(sentence.split("; with a jitter of ")[0]!)) if (![...known, 15, 10_800].some((value) => tells(token, value))) faults.push(`"${token}" in "${sentence}"`);
  }
  return faults;
}

/** A curve runs through its points; only what comes before the end of its first fall may run out of the frame at the top. */
function curveFaults(mark: PageFigures["drawn"][number], points: readonly Point[]): string[] {
  const [along, up] = [alongAxis(mark, secondsOf), upAxis(mark)];
  const defined = points.filter(({ share }) => share !== null);
  const corners = cornersOf(mark.d);
  if (corners.length !== defined.length) return [`${mark.figure}: ${corners.length} corners for ${defined.length} points`];
  const top = Math.min(...corners.map(({ y }) => y));
  let falling = true;
  return defined.flatMap(({ afterSeconds, staySeconds, share }, i) => {
    if (i > 0 && share! > defined[i - 1]!.share!) falling = false;
    const wanted = up(share!);
    const { x, y } = corners[i]!;
    const right = Math.abs(y - wanted) <= 0.03 || (falling && wanted < top && y === top);
    return right && Math.abs(x - along((afterSeconds ?? staySeconds)!)) <= 0.03 ? [] : [`${mark.figure}[${i}]: ${x}, ${y} for ${share}`];
  });
}

// the others have no figure that the twins have not
describe.each(demos.filter((name) => thorough || name === "twin-boards"))("every figure of %s", (name) => {
  test("on its page is one of those that are printed", async () => {
    const whole = await readFile(join(await pages.report(name), "index.html"), "utf8");
    // neither its looks nor its script say a figure
    const { document } = new JSDOM(whole.replaceAll(/<(style|script)\b[^]*?<\/\1>/g, "")).window;
    const found = figuresOn(document);
    const told = await printed(name);
    expect(faultsOf(found, told)).toEqual([]);
    // its pictures against the record, and its tables of builds against as many drawn again
    const spells = spellsOf((await lampdrift(["export", demo(name), "--as", "csv"])).stdout);
    const hours = Math.max(...spells.map(({ until }) => until));
    const whole1 = document.querySelector("svg[aria-labelledby^=timeline-1]")!;
    const hour1 = document.querySelector("svg[aria-labelledby^=timeline-hour-1]")!;
    expect(stillFaults(document, told, spells)).toEqual([]);
    expect(timelineFaults(whole1, told, spells, hours)).toEqual([]);
    expect(timelineFaults(hour1, told, spells, 3600)).toEqual([]);
    const later = spells.map((spell) => ({ ...spell, from: spell.from + 30, until: spell.until + 30 }));
    expect(timelineFaults(hour1, told, later, 3600).length).toBeGreaterThan(5);
    expect(stillFaults(document, told, spells.map((spell) => ({ ...spell, houses: spell.houses.slice(1) }))).length).toBeGreaterThan(3);
    if (name === "twin-boards" || thorough) {
      const drawn = JSON.parse((await lampdrift(["spread", demo(name), "--builds", "20", "--workers", "1", "--json"])).stdout) as SpreadTold;
      expect(spreadFaults(document, drawn)).toEqual([]);
      const worse = { ...drawn, boards: drawn.boards.map((board) => ({ ...board, step: { ...board.step, p95: board.step.p95 * 1.02 } })) };
      expect(spreadFaults(document, worse).length).toBe(drawn.boards.length);
    }
    // all of them are there
    const figures = new Set([...found.texts, ...found.rows, ...found.drawn].map(({ figure }) => figure));
    for (let house = 0; house < told.houses.length; house++) {
      for (const key of ["litShare", "longestDarkSeconds"]) expect(figures).toContain(`houses[${house}].${key}`);
    }
    for (const key of ["boards", "promises", "ratings"] as const) told[key].forEach((_, i) => expect(figures).toContain(`${key}[${i}]`));
    expect(figures).toContain("lit.shares");
    if (name === "twin-boards") for (const key of ["repeat.curve", "visit.repeatCurve", "scenes.sameAtRandom"]) expect(figures).toContain(key);
    // a figure that is another one is seen
    const other = { ...told, houses: told.houses.map((house) => ({ ...house, litShare: house.litShare + 0.01 })) };
    expect(faultsOf(found, other).length).toBeGreaterThan(told.houses.length);
    const moved = (curve: readonly Point[]): Point[] => curve.map((point) => ({ ...point, share: point.share === null ? null : point.share * 0.99 }));
    const [returns, stays] = [moved(told.repeat.curve), moved(told.visit.repeatCurve)];
    const curved = { ...told, repeat: { ...told.repeat, curve: returns }, visit: { ...told.visit, repeatCurve: stays } };
    expect(faultsOf(found, curved).length).toBeGreaterThan(10);
  });
});

test("when a day repeats the day before, strip and sentence tell what the record has", async () => {
  const folder = await scratch();
  const board = (step: string, house: string): string => `{ timer: { kind: quartz, step: ${step}, jitter: 1 % }, counter: { kind: ring, steps: 3 }, outputs: { 0: ${house} } }`;
  await writeFile(join(folder, "plan.yaml"), `lampdrift: 1
title: Two sheds
opening: { from: "10:00", until: "13:00", run: 4 }
houses: { shed: , barn: }
boards: { yard: ${board("61 s", "shed")}, lane: ${board("83 s", "barn")} }
`);
  expect((await lampdrift(["report", "plan.yaml", "-o", "out", "--builds", "0"], { cwd: folder })).stderr).toMatch(/^wrote /);
  const { document } = new JSDOM((await readFile(join(folder, "out/index.html"), "utf8")).replaceAll(/<(style|script)\b[^]*?<\/\1>/g, "")).window;
  const spells = spellsOf((await lampdrift(["export", "plan.yaml", "--as", "csv"], { cwd: folder })).stdout);
  expect(dayFaults(document, spells, 3)).toEqual([]);
  expect(dayFaults(document, spells.map((spell) => ({ ...spell, houses: spell.opening === 2 ? [] : spell.houses })), 3).length).toBeGreaterThan(2);
});

test.skipIf(noBrowser !== false)("what the page itself works out and draws for a phone are the same figures", async () => {
  const page = await chromium.page(1000);
  await page.goto(`file://${join(await pages.report("twin-boards"), "index.html")}`);
  await page.getByRole("button", { name: "Play" }).waitFor();
  await page.evaluate(() => { for (const svg of document.querySelectorAll("#houses svg, #repeats svg")) svg.setAttribute("data-old", ""); });
  await widen(page, 360);
  await page.waitForFunction(() => document.querySelector("svg[data-old]") === null);
  const found = await page.evaluate<PageFigures>(`(${figuresOn.toString()})(document)`);
  expect(found.drawn.map(({ figure }) => figure)).toEqual(expect.arrayContaining(["repeat.curve", "visit.repeatCurve", "lit.shares"]));
  expect(faultsOf(found, await printed("twin-boards"))).toEqual([]);
  await page.close();
});
