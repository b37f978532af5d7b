import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Page } from "playwright-core";
import { SaxesParser } from "saxes";
import { beforeAll, describe, expect, test } from "vitest";
import { buildReport } from "../../reports/page/report.js";
import { contrast } from "../../reports/pictures/contrast.js";
import { simulate } from "../../sim/engine/simulate.js";
import { figures } from "../../sim/figures/index.js";
import { checkPromises } from "../../sim/promises/index.js";
import { ratingNotes, ratings } from "../../sim/ratings/index.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { browser, complaintsOf, noBrowser, textFaults, widen } from "./browser.js";
import { thorough } from "../thorough.js";
import { scratch } from "./command.js";

const folder = await scratch();

/** A report straight from the text of a scenario. */
function report(text: string): Map<string, string> {
  const scenario = parseScenario(text, "test.yaml");
  const record = simulate(scenario, { trace: true });
  return buildReport({
    scenario,
    record,
    figures: figures(record),
    ratings: ratings(scenario, record),
    notes: ratingNotes(scenario, record),
    promises: checkPromises(record),
    spread: null,
    version: "0",
    day: 1,
    dated: null,
    photo: null,
    live: null,
  });
}

interface Wanted {
  readonly houses: Readonly<Record<string, object | null>>;
  readonly boards: Readonly<Record<string, { step: string; counter: object; outputs: object }>>;
  readonly opening?: object;
  readonly title?: string;
}

function scenarioText({ houses, boards, opening = { from: "10:00", until: "13:00", run: 2 }, title = "Test" }: Wanted): string {
  const timed = Object.entries(boards).map(([id, { step, counter, outputs }]) => [id, { timer: { kind: "quartz", step }, counter, outputs }]);
  return JSON.stringify({ lampdrift: 1, title, opening, houses, boards: Object.fromEntries(timed) as object });
}

const ring = (steps: number): object => ({ kind: "ring", steps });
const oneEach = (houses: readonly string[]): object => Object.fromEntries(houses.map((id, i) => [i, id]));
const numbered = (count: number, house: (i: number) => object | null): Record<string, object | null> =>
  Object.fromEntries(Array.from({ length: count }, (_, i) => [`h${i}`, house(i)]));
const boardsFor = (count: number, boards: number, steps: number): Wanted["boards"] =>
  Object.fromEntries(
    Array.from({ length: boards }, (_, b) => [
      `b${b}`,
      { step: `${50 + 7 * b} s`, counter: ring(steps), outputs: oneEach(Array.from({ length: steps }, (_o, o) => `h${(b * steps + o) % count}`)) },
    ]),
  );

const NAMES = [
  "<script>alert(1)</script>", "]]> & \"q\" 'x'", "&lt;b&gt; &#0;", "<img src=x onerror=alert(2)>", "\u202egnihton", "\u2067lone isolate",
  "Z\u0336\u0335\u0327\u0322\u0321\u0334\u0337\u0338algo\u0336\u0335\u0327\u0322\u0321", "\ufdfd\ufdfd\ufdfd\ufdfd\ufdfd", "\ud800 half", "\uffff none",
  "مخبز الميناء القديم", "שלום שלום", "港の灯台と長い名前の家", "👨‍👩‍👧 family 🏠", "W".repeat(80), "पुराना बेकरी घर", "ЩЩЩЩЩЩЩЩЩЩ", "--><style>*{display:none}</style>",
];
const named = Object.fromEntries(NAMES.map((name, i) => [`h${i}`, { name, zone: i % 2 === 0 ? "שכונה" : "z".repeat(40) }]));

const cases: Readonly<Record<string, Wanted>> = {
  "names of all kinds": {
    title: "\u202e<b>title</b>",
    houses: named,
    boards: { דגל: { step: "90 s", counter: ring(NAMES.length), outputs: oneEach(Object.keys(named)) } },
  },
  "names at places": {
    houses: Object.fromEntries(NAMES.slice(0, 14).map((name, i) => [`h${i}`, { name, at: [(i * 37) % 100, (i * 53) % 60] }])),
    boards: { b: { step: "90 s", counter: ring(3), outputs: { 0: ["h0", "h3"], 1: "h2", 2: ["h5", "h7"] } } },
  },
  "one house": { houses: { a: null }, boards: { b: { step: "200 s", counter: ring(2), outputs: { 0: "a" } } } },
  "nothing ever lit": { houses: { a: { at: [0, 0] }, b: { at: [0, 0] }, c: null }, boards: { b: { step: "200 s", counter: ring(2), outputs: {} } } },
  "a hundred houses with long names, six boards": {
    houses: numbered(100, (i) => ({ name: `${i} ${"Wharf ".repeat(20)}`.slice(0, 80), zone: `z${i % 4}` })),
    boards: boardsFor(100, 6, 20),
  },
  "sixty houses in one place": { houses: numbered(60, () => ({ at: [10, 10] })), boards: boardsFor(60, 3, 20) },
  "some with a place, one far away": {
    houses: numbered(40, (i) => ({ name: `House number ${i}`, zone: `z${i % 3}`, ...(i % 4 === 0 ? {} : { at: [i === 1 ? 1e5 : i, (i * 7) % 13] }) })),
    boards: boardsFor(40, 2, 20),
  },
  "65535 steps, and steps too fast to draw": {
    houses: { a: null, b: null, c: null },
    boards: {
      b: { step: "1 s", counter: { kind: "lfsr", bits: 16 }, outputs: { 0: "a", 1: "b" } },
      c: { step: "20 h", counter: ring(65_535), outputs: { 65534: "c" } },
    },
  },
  "lit for hardly any time": { houses: { a: null, b: null }, boards: { b: { step: "1 s", counter: ring(1428), outputs: { 0: "a" } } } },
  "an opening of ten minutes": {
    opening: { from: "10:00", until: "10:10", run: 3 },
    houses: { a: null, b: null, c: null },
    boards: { b: { step: "40 s", counter: ring(14), outputs: { 0: "a", 2: "b", 3: "c", 5: "a" } } },
  },
  "an opening of eight microseconds": {
    opening: { from: "10:00:00.000001", until: "10:00:00.000009", run: 1 },
    houses: { a: null },
    boards: { b: { step: "1 ms", counter: ring(2), outputs: { 0: "a" } } },
  },
};

const reports = new Map<string, Map<string, string>>();
beforeAll(() => {
  for (const [name, wanted] of Object.entries(cases)) reports.set(name, report(scenarioText(wanted)));
}, 60_000);

describe("the pictures as files", () => {
  test.each(Object.keys(cases))("%s: well-formed, with the title and description that label them", (name) => {
    const pictures = [...reports.get(name)!].filter(([file]) => file.endsWith(".svg"));
    expect(pictures.length).toBeGreaterThan(6);
    for (const [, content] of pictures) {
      const ids: string[] = [];
      let label = "";
      const parser = new SaxesParser({ xmlns: true });
      parser.on("error", (error) => {
        throw error;
      });
      parser.on("opentag", ({ local, attributes }) => {
        if (local === "svg") label = attributes["aria-labelledby"]!.value;
        if (local === "title" || local === "desc") ids.push(attributes["id"]!.value);
      });
      parser.write(content).close();
      expect(ids.join(" ")).toBe(label);
    }
  });

  test("names are text in them, the same bytes every time", () => {
    const text = scenarioText(cases["names of all kinds"]!);
    const files = report(text);
    expect([...files]).toEqual([...reports.get("names of all kinds")!]);
    const key = files.get("display-key.svg")!;
    expect(key).toContain(">&lt;script&gt;alert(1)&lt;/script&gt;<");
    expect(key).toContain(">]]&gt; &amp; \"q\" 'x'<");
    // signs that would turn the rest of a line the other way are shown, not obeyed
    const seen = [...files].filter(([file]) => !file.endsWith(".csv"));
    for (const [, content] of seen) expect(content).not.toMatch(/[\u202a-\u202e\u2066-\u2069\ufffe\uffff]|[^\P{Cc}\r\n]/u);
  });
});

describe.skipIf(noBrowser)("reports that are hard to draw, in a browser", () => {
  const chromium = browser();

  test.each(Object.keys(cases))("%s: every text can be read", async (name) => {
    const directory = join(folder, name);
    mkdirSync(directory, { recursive: true });
    const file = join(directory, "index.html");
    writeFileSync(file, reports.get(name)!.get("index.html")!);
    const page = await chromium.page(390);
    const complaints = complaintsOf(page);
    const asked: string[] = [];
    page.on("request", (request) => {
      if (request.url() !== pathToFileURL(file).href) asked.push(request.url());
    });
    await page.goto(pathToFileURL(file).href);
    expect([complaints, asked]).toEqual([[], []]);
    expect(await page.evaluate(() => document.querySelectorAll("script, img, b, body style").length)).toBe(0);
    // pictures are drawn for the width, and a phone leaves them least room
    for (const width of thorough ? [390, 1280] : [390]) {
      await widen(page, width);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      expect(await textFaults(page, 11.9), `${width} px`).toEqual([]);
    }
    const pairs = await textColours(page);
    expect(pairs.length).toBeGreaterThan(2);
    // WCAG 2.2, success criterion 1.4.3
    expect(pairs.filter(({ colour, background }) => contrast(colour, background) < 4.5)).toEqual([]);
    await page.close();
  });

  test("the colours behind text are found: shapes in pictures, boxes in the page", async () => {
    const page = await chromium.page(400);
    await page.setContent(`<div style="background:#222222"><p style="color:#333333">dim</p></div>
<svg width="90" height="40"><rect width="90" height="40" fill="#004488"/><path d="M0 0h40v40h-40z" fill="#eeeeee"/>
<text x="50" y="20" fill="#ffffff">on</text><text x="5" y="20" fill="#dddddd">pale</text></svg>
<svg width="90" height="40"><linearGradient id="sky"><stop offset="0" stop-color="#000000"/><stop offset="1" stop-color="#202020"/></linearGradient>
<radialGradient id="light"><stop offset="0" stop-color="#ffffff"/><stop offset="1" stop-color="#ffffff" stop-opacity="0"/></radialGradient>
<rect width="90" height="40" fill="url(#sky)"/><text x="0" y="20" fill="#ffffff">.</text><circle cx="60" cy="20" r="400" opacity="0.5" fill="url(#light)"/>
<text x="58" y="24" fill="#ffffff">.</text></svg>`);
    expect(await textColours(page)).toEqual([
      { text: "on", colour: "#ffffff", background: "#004488" },
      { text: "pale", colour: "#dddddd", background: "#eeeeee" },
      { text: ".", colour: "#ffffff", background: "#202020" },
      { text: ".", colour: "#ffffff", background: "#8f8f8f" },
      { text: "dim", colour: "#333333", background: "#222222" },
    ]);
    await page.close();
  });

  test("a picture opens by itself", async () => {
    const file = join(folder, "display.svg");
    writeFileSync(file, reports.get("names at places")!.get("display.svg")!);
    const page = await chromium.page(900);
    await page.goto(pathToFileURL(file).href);
    expect(await page.evaluate(() => document.documentElement.namespaceURI)).toBe("http://www.w3.org/2000/svg");
    expect(await page.evaluate(() => document.querySelectorAll("text").length)).toBeGreaterThan(10);
    await page.close();
  });
});

interface Colours {
  readonly text: string;
  readonly colour: string;
  readonly background: string;
}

/** The colours of all text in a page and of what is behind it, each pair once, with an example of the text. */
async function textColours(page: Page): Promise<Colours[]> {
  return page.evaluate(() => {
    const found = new Map<string, { text: string; colour: string; background: string }>();
    const hex = (css: string): string => {
      const [red, green, blue, alpha = 1] = css.match(/[\d.]+/g)!.map(Number);
      return alpha === 0 ? "none" : `#${[red!, green!, blue!].map((channel) => channel.toString(16).padStart(2, "0")).join("")}`;
    };
    const channels = (css: string): number[] => css.match(/[\d.]+/g)!.map(Number).slice(0, 3);
    /** What a shape lays over what is behind it at a point, and how thickly; of a gradient along a picture its lightest colour. */
    const paintOf = (shape: SVGGeometryElement, point: DOMPoint): { colour: number[]; cover: number } => {
      const { fill, opacity } = getComputedStyle(shape);
      const gradient = document.getElementById(/^url\("#(.+)"\)/.exec(fill)?.[1] ?? "");
      if (gradient === null) return { colour: channels(fill), cover: Number(opacity) };
      const stops = [...gradient.children].map((stop) => ({ at: Number(stop.getAttribute("offset")), colour: channels(getComputedStyle(stop).stopColor),
        cover: Number(getComputedStyle(stop).stopOpacity) }));
      if (gradient.localName === "linearGradient") return stops.reduce((one, other) => (other.colour[1]! > one.colour[1]! ? other : one));
      const circle = shape as SVGCircleElement;
      const out = Math.hypot(point.x - circle.cx.baseVal.value, point.y - circle.cy.baseVal.value) / circle.r.baseVal.value;
      const next = Math.max(1, stops.findIndex(({ at }) => at >= out));
      const [from, to] = [stops[next - 1]!, stops[next]!];
      return { colour: to.colour, cover: Number(opacity) * (from.cover + ((to.cover - from.cover) * (out - from.at)) / (to.at - from.at)) };
    };
    const note = (element: Element, colour: string, background: string): void => {
      found.set(`${colour} ${background}`, { text: element.textContent.slice(0, 40), colour: hex(colour), background });
    };
    for (const text of document.querySelectorAll("svg text")) {
      const style = getComputedStyle(text);
      if (style.stroke !== "none") {
        note(text, style.fill, hex(style.stroke));
        continue;
      }
      const { x, y, width, height } = (text as SVGGraphicsElement).getBBox();
      const shapes = [...text.parentElement!.children].slice(0, [...text.parentElement!.children].indexOf(text));
      for (const share of [0.1, 0.5, 0.9]) {
        const point = new DOMPoint(x + width * share, y + height / 2);
        let behind = [255, 255, 255];
        for (const shape of shapes) {
          if (!(shape instanceof SVGGeometryElement) || getComputedStyle(shape).fill === "none" || !shape.isPointInFill(point)) continue;
          const { colour, cover } = paintOf(shape, point);
          behind = behind.map((channel, i) => channel + (colour[i]! - channel) * cover);
        }
        note(text, style.fill, hex(behind.map((channel) => Math.round(channel)).join(" ")));
      }
    }
    for (const element of document.querySelectorAll("body *:not(svg, svg *)")) {
      if (![...element.childNodes].some((node) => node.nodeType === Node.TEXT_NODE && node.textContent!.trim() !== "")) continue;
      let holder: Element | null = element;
      while (holder !== null && hex(getComputedStyle(holder).backgroundColor) === "none") holder = holder.parentElement;
      note(element, getComputedStyle(element).color, holder === null ? "#ffffff" : hex(getComputedStyle(holder).backgroundColor));
    }
    return [...found.values()];
  });
}
