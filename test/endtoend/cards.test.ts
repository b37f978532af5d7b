import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { SaxesParser } from "saxes";
import { describe, expect, test } from "vitest";
import { CAUTIONS } from "../../reports/page/cautions.js";
import { browser, complaintsOf, noBrowser, textFaults } from "./browser.js";
import { demo, demos, program, scratch } from "./command.js";
import { demoPages } from "./demopages.js";
import { thorough } from "../thorough.js";
import { lampdrift } from "./inprocess.js";

const folder = await scratch();
const pages = await demoPages();

async function cards(name: string, file: string): Promise<string> {
  const out = join(folder, name);
  const { status, stdout, stderr } = await lampdrift(["cards", file, "-o", out, "--dated", "2031-05-17"]);
  expect({ status, stdout, stderr: stderr.includes("wrote") }).toEqual({ status: 0, stdout: "", stderr: true });
  return out;
}

const hostileFile = join(folder, "hostile.yaml");
writeFileSync(
  hostileFile,
  `lampdrift: 1
title: "<script>alert(1)</script> & ]]> \\"quoted\\" 'too'"
opening: { from: "10:00", until: "13:00", run: 2 }
houses:
  a: { name: "<img src=x onerror=alert(2)>" }
  b: { name: "a name of eighty characters a name of eighty characters a name of eighty charact" }
  c: { name: "בית קפה" }
  d: { name: "港の灯台" }
boards:
  one:
    timer: { kind: astable, ra: 47k, rb: 100k, c: 100u, divide: 4, trimmer: { value: 500k 20%, in: rb, taper: log }, dial: 30 % }
    counter: { kind: ring, steps: 26 }
    outputs: { ${Array.from({ length: 26 }, (_, o) => `${o}: [${["a", "b", "c", "d"].slice(0, 1 + (o % 4)).join(", ")}]`).join(", ")} }
  two:
    timer: { kind: carry, from: one }
    counter: { kind: shuffle, steps: [[0], [1], [0, 1]] }
    outputs: { 0: a, 1: b }
`,
);

const TINY = `lampdrift: 1
title: Tiny
opening: { from: "10:00", until: "11:00", run: 1 }
houses: { inn: , mill: }
boards: { quay: { timer: { kind: quartz, step: 61 s }, counter: { kind: ring, steps: 3 }, outputs: { 0: inn, 1: mill } } }
`;
const tinyFile = join(folder, "tiny.yaml");
writeFileSync(tinyFile, TINY);

const written = {
  "tidewater-lane": await pages.cards("tidewater-lane"),
  workshop: await pages.cards("workshop"),
  // its boards are of kinds that the others have too
  ...(thorough ? { "twin-boards": await pages.cards("twin-boards") } : {}),
  hostile: await cards("hostile", hostileFile),
};
const everyone = Object.entries(written);

const sheetsOf = (out: string): string[] => readdirSync(out).filter((file) => file.endsWith(".svg"));

describe("the files of the cards", () => {
  test("there is a wiring card and a fault-finding card for each board, and a knob chart where there is a knob", () => {
    const named = (kind: string): Set<string> =>
      new Set(sheetsOf(written["tidewater-lane"]).flatMap((file) => new RegExp(`^${kind}-(quay|village|hill)(-\\d+)?\\.svg$`).exec(file)?.[1] ?? []));
    for (const kind of ["wiring", "knob", "faults"]) expect(named(kind), kind).toEqual(new Set(["quay", "village", "hill"]));
    expect(sheetsOf(written.hostile).some((file) => file.startsWith("knob-two"))).toBe(false);
  });

  test.each(everyone)("%s: each is XML with a title and a description, and carries title, version, date and cautions", (name, out) => {
    const file = name === "hostile" ? hostileFile : demo(name as (typeof demos)[number]);
    const text = readFileSync(file);
    const version = createHash("sha256").update(text).digest("hex").slice(0, 8);
    for (const sheet of sheetsOf(out)) {
      const names: string[] = [];
      const texts: string[] = [];
      const parser = new SaxesParser({ xmlns: true });
      parser.on("error", (error) => {
        throw new Error(`${sheet}: ${error.message}`);
      });
      parser.on("opentag", ({ local }) => names.push(local));
      parser.on("text", (part) => texts.push(part));
      parser.write(readFileSync(join(out, sheet), "utf8")).close();
      expect(names.slice(0, 3), sheet).toEqual(["svg", "title", "desc"]);
      expect(texts, sheet).toContain(`version ${version}, 2031-05-17`);
      const words = texts.join(" ").replace(/\s+/g, " ");
      for (const caution of CAUTIONS) expect(words, sheet).toContain(caution);
    }
  });

  test.each(everyone)("%s: the page holds every card, loads nothing and runs nothing", (_name, out) => {
    const page = readFileSync(join(out, "cards.html"), "utf8");
    expect(page).not.toMatch(/<(script|link|iframe|img|object|embed|base|form)\b|@import|url\((?!#)|<[^>]*\s(src|srcset|on\w+)=/i);
    expect(page.match(/<div class="card"/g)).toHaveLength(sheetsOf(out).length);
    const ids = [...page.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const [, target] of page.matchAll(/href="([^"]*)"|url\(([^)]*)\)/g)) if (target !== undefined) expect(ids).toContain(target.slice(1));
  });

  test("the same file gives the same bytes, whatever day it is", async () => {
    const again = await cards("again", hostileFile);
    expect(readdirSync(again)).toEqual(readdirSync(written.hostile));
    for (const file of readdirSync(again)) expect(readFileSync(join(again, file), "utf8"), file).toBe(readFileSync(join(written.hostile, file), "utf8"));
  });

  test("a variant has a version of its own, which changes with its base", async () => {
    const base = TINY;
    const variant = "base: base.yaml\ntitle: Another\n";
    const version = async (text: string): Promise<string> => {
      writeFileSync(join(folder, "base.yaml"), text);
      writeFileSync(join(folder, "variant.yaml"), variant);
      const sheet = readFileSync(join(await cards("variant", join(folder, "variant.yaml")), "wiring-quay-1.svg"), "utf8");
      return /version ([0-9a-f]{8}),/.exec(sheet)![1]!;
    };
    const first = await version(base);
    expect(first).toBe(createHash("sha256").update(variant).update(base).digest("hex").slice(0, 8));
    expect(await version(`${base}# a word more\n`)).not.toBe(first);
  });
});

describe("what cannot be", () => {
  test.each([
    [["--dated", "yesterday"], "expected a date as year-month-day"],
    [["--dated", "2031-02-30"], "expected a date as year-month-day"],
    [["--dated", "\u001b[31m"], "expected a date as year-month-day"],
    [["-o", hostileFile], "expected a directory to write into"],
  ])("%j is refused in a line, and nothing is written", async (args, told) => {
    const cwd = join(folder, "empty");
    mkdirSync(cwd, { recursive: true });
    const { status, stdout, stderr } = await lampdrift(["cards", demo("twin-boards"), ...args], { cwd });
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toContain(told);
    expect(stderr).not.toMatch(/\n\s+at .*:\d+:\d+|\u001b/);
    expect(readdirSync(cwd)).toEqual([]);
  });

  test("a display too busy to try every fault on gets its other cards, and a word on the missing ones", async () => {
    const file = join(folder, "busy.yaml");
    writeFileSync(file, readFileSync(hostileFile, "utf8").replace("divide: 4, ", "").replace("c: 100u", "c: 10n"));
    const out = join(folder, "busy");
    const { status, stderr } = await lampdrift(["cards", file, "-o", out]);
    expect(status).toBe(0);
    expect(stderr).toContain("no fault-finding cards");
    expect(stderr).toMatch(/give (the boards longer steps|that board a longer step)/);
    expect(existsSync(join(out, "knob-one.svg"))).toBe(true);
    expect(sheetsOf(out).some((sheet) => sheet.startsWith("faults"))).toBe(false);
  });
});

describe.skipIf(noBrowser)("the cards in a browser", () => {
  const chromium = browser();

  const pdfOf = (name: string, paper: string): string => join(folder, `${name}-${paper}.pdf`);
  const both = ["tidewater-lane", "hostile"];
  const papers = everyone.flatMap(([name, out]) => (both.includes(name) ? (["A4", "Letter"] as const) : (["A4"] as const)).map((paper) => [name, paper, out] as const));

  test.each(everyone)("%s on a screen: nothing cut, overlapping or too small", async (name, out) => {
    const page = await chromium.page(1000);
    const complaints = complaintsOf(page);
    await page.goto(pathToFileURL(join(out, "cards.html")).href);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(1000);
    expect(await textFaults(page, 10.5)).toEqual([]);
    expect(complaints).toEqual([]);
    // printed for the tests below
    for (const [printed, format] of papers) if (printed === name) await page.pdf({ path: pdfOf(name, format), format });
    await page.close();
  });

  test.each(papers)("%s on %s paper: a page for each card", async (name, paper, out) => {
    const { stdout } = await program("pdfinfo", [pdfOf(name, paper)]);
    expect(Number(/^Pages:\s+(\d+)$/m.exec(stdout)![1])).toBe(sheetsOf(out).length);
    const { stdout: text } = await program("pdftotext", ["-layout", pdfOf(name, paper), "-"]);
    // each page begins with the heading of its card
    const pages = text.split("\f").slice(0, -1);
    for (const one of pages) expect(one.trimStart()).toMatch(/^((Wiring card|Parts card|First-power-on sheet|Knob chart|Fault-finding card): board|Log sheet)/);
  });

  test.each(["A4", "Letter"] as const)("the ruler is 100 mm long on %s paper, to a hundredth", async (paper) => {
    const file = pdfOf("tidewater-lane", paper);
    const knobs = readdirSync(written["tidewater-lane"]).filter((sheet) => sheet.startsWith("knob")).length;
    expect(knobs).toBe(3);
    const { stdout } = await program("pdftotext", [file, "-"]);
    const sheet = stdout.split("\f").findIndex((one) => one.includes("Knob chart")) + 1;
    const dpi = 150;
    const image = join(folder, `ruler-${paper}`);
    await program("pdftoppm", ["-r", String(dpi), "-gray", "-f", String(sheet), "-l", String(sheet), "-singlefile", file, image]);
    const lengths = darkRuns(readFileSync(`${image}.pgm`), dpi);
    // the line under the heading is as wide as the card; the ruler is the one that is near 100 mm
    expect(Math.abs(Math.max(...lengths) - 190)).toBeLessThan(1.9);
    const near = lengths.filter((length) => length > 90 && length < 110);
    expect(near.length).toBeGreaterThan(0);
    for (const length of near) expect(Math.abs(length - 100)).toBeLessThan(1);
  });
});

test("on a terminal a bar shows how many boards are drawn, and goes when they are", async () => {
  const told = await lampdrift(["cards", tinyFile, "-o", join(folder, "bar")], { columns: 80 });
  expect(told.status).toBe(0);
  expect(told.stderr).toContain("0 of 1 boards");
  expect(told.stderr.trimEnd().split("\n").at(-1)).toContain("wrote ");
  const quiet = await lampdrift(["cards", tinyFile, "-o", join(folder, "quiet")]);
  expect(quiet.stderr).toMatch(/^wrote [^\n]*\n$/);
});

/** Lengths in millimetres of the longest dark stretch of each row of a grey picture (PGM, eight bits). */
function darkRuns(pgm: Buffer, dpi: number): number[] {
  const [head, width, height] = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(pgm.subarray(0, 40).toString("latin1"))!;
  const pixels = pgm.subarray(head.length);
  expect(pixels.length).toBe(Number(width) * Number(height));
  return Array.from({ length: Number(height) }, (_, row) => {
    let longest = 0;
    let run = 0;
    for (const grey of pixels.subarray(row * Number(width), (row + 1) * Number(width))) {
      run = grey < 128 ? run + 1 : 0;
      longest = Math.max(longest, run);
    }
    return (longest / dpi) * 25.4;
  });
}
