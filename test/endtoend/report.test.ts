import { createHash } from "node:crypto";
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { SaxesParser } from "saxes";
import { describe, expect, test } from "vitest";
import { scenesCsv } from "../../reports/page/csv.js";
import { readScenario, simulate } from "../../sim/index.js";
import { browser, complaintsOf, noBrowser, textFaults, widen } from "./browser.js";
import { demo, project, scratch } from "./command.js";
import { demoPages } from "./demopages.js";
import { thorough } from "../thorough.js";
import { lampdrift } from "./inprocess.js";

const folder = await scratch();
const pages = await demoPages();

async function report(name: string, file: string, ...options: string[]): Promise<string> {
  const out = join(folder, name);
  const { status, stdout, stderr } = await lampdrift(["report", file, "-o", out, "--builds", "2", ...options]);
  // the twins break the promise that they make
  const expected = file.includes("twin-boards") ? 1 : 0;
  expect({ status, stdout, stderr: stderr.includes("wrote") }).toEqual({ status: expected, stdout: "", stderr: true });
  return out;
}

const hostile = `lampdrift: 1
title: "<script>alert(1)</script> & ]]> \\"quoted\\" 'too'"
opening: { from: "10:00", until: "13:00", run: 2 }
houses:
  a: { name: "<img src=x onerror=alert(2)>", zone: z, at: [0, 0] }
  b: { name: "=HYPERLINK(1)", zone: z, at: [1, 0] }
  c: { name: "]]><svg onload=alert(3)>", at: [5, 9] }
  d: { name: "בית קפה" }
  e: { name: "港の灯台" }
  f: { name: "a name of eighty characters a name of eighty characters a name of eighty charact" }
boards:
  one:
    timer: { kind: quartz, step: 97 s }
    counter: { kind: ring, steps: 6 }
    outputs: { 0: a, 1: b, 2: c, 3: d, 4: e, 5: f }
`;
const hostileFile = join(folder, "hostile.yaml");
writeFileSync(hostileFile, hostile);

const many = `lampdrift: 1
title: Many houses
opening: { from: "08:00", until: "20:00", run: 2 }
houses:
${Array.from({ length: 70 }, (_, i) => `  h${i}: { zone: z${i % 4} }`).join("\n")}
boards:
${Array.from({ length: 4 }, (_, b) => `  b${b}:
    timer: { kind: quartz, step: ${50 + 7 * b} s }
    counter: { kind: ring, steps: 16 }
    outputs: { ${Array.from({ length: 16 }, (_o, o) => `${o}: h${(b * 18 + o) % 70}`).join(", ")} }`).join("\n")}
`;
const manyFile = join(folder, "many.yaml");
writeFileSync(manyFile, many);

const reports = {
  "tidewater-lane": await pages.report("tidewater-lane"),
  // their pictures are of the same kinds
  ...(thorough ? { "twin-boards": await pages.report("twin-boards"), workshop: await pages.report("workshop") } : {}),
  hostile: await report("hostile", hostileFile),
  many: await report("many", manyFile),
};

describe("the files of a report", () => {
  test.each(Object.entries(reports))("%s: every picture is XML with a title and a description", (_name, out) => {
    const pictures = readdirSync(out).filter((file) => file.endsWith(".svg"));
    expect(pictures.length).toBeGreaterThan(8);
    for (const picture of pictures) {
      const names: string[] = [];
      const parser = new SaxesParser({ xmlns: true });
      parser.on("error", (error) => {
        throw new Error(`${picture}: ${error.message}`);
      });
      const spaces = new Set<string>();
      parser.on("opentag", ({ local, uri }) => {
        spaces.add(uri);
        names.push(local);
      });
      parser.write(readFileSync(join(out, picture), "utf8")).close();
      expect([...spaces]).toEqual(["http://www.w3.org/2000/svg"]);
      expect(names.slice(0, 3)).toEqual(["svg", "title", "desc"]);
    }
  });

  test("the parts of the page stand in order", () => {
    const page = readFileSync(join(reports["tidewater-lane"], "index.html"), "utf8");
    const headings = [...page.matchAll(/<section id="([a-z]+)">/g)].map(([, id]) => id);
    expect(headings).toEqual([
      "found", "scenes", "display", "timeline", "houses", "lit", "repeats", "why", "promises", "spread", "ratings", "boards", "cards", "cautions", "limits", "assumed",
    ]);
    expect(page.match(/<ol class="found">[^]*?<\/ol>/)![0].match(/<li>/g)).toHaveLength(5);
  });

  test.each(Object.entries(reports))("%s: the page loads nothing, and runs its own script alone", (_name, out) => {
    const page = readFileSync(join(out, "index.html"), "utf8");
    const scripts = [...page.matchAll(/<script\b([^>]*)>([^]*?)<\/script>/g)];
    expect(scripts.map(([, attributes]) => attributes)).toEqual([' type="application/json" id="lampdrift-embedded"', ""]);
    const digest = createHash("sha256").update(scripts[1]![2]!).digest("base64");
    expect(page).toContain(`default-src &#39;none&#39;; script-src &#39;sha256-${digest}&#39;`);
    const rest = page.replaceAll(/<script\b[^]*?<\/script>/g, "");
    expect(rest).not.toMatch(/<(script|link|iframe|img|object|embed|base|form)\b|@import|url\((?!#)|<[^>]*\s(src|srcset|on\w+)=/i);
    expect([...rest.matchAll(/href="([^"]*)"/g)].every(([, target]) => target === "cards.html" || target!.startsWith("#"))).toBe(true);
  });

  test("what a file says stays text, in the page and in spreadsheets", () => {
    const page = readFileSync(join(reports.hostile, "index.html"), "utf8");
    expect(page).toContain("&lt;script&gt;alert(1)&lt;/script&gt; &amp; ]]&gt; &quot;quoted&quot; &#39;too&#39;");
    expect(readFileSync(join(reports.hostile, "houses.csv"), "utf8")).toContain(`b,'=HYPERLINK(1),z,`);
  });

  test("the same file gives the same bytes", async () => {
    const again = await report("again", hostileFile);
    expect(readdirSync(again)).toEqual(readdirSync(reports.hostile));
    for (const file of readdirSync(again)) expect(readFileSync(join(again, file), "utf8"), file).toBe(readFileSync(join(reports.hostile, file), "utf8"));
  });

  test("a table of scenes that nobody could open is not made", async () => {
    const record = simulate(await readScenario(demo("twin-boards")));
    const whole = scenesCsv(record)!;
    expect(scenesCsv(record, whole.length)).toBe(whole);
    expect(scenesCsv(record, whole.length - 1)).toBeNull();
  });

  test("figures.json is what run prints, and the scenes of scenes.csv make up the open time", async () => {
    const { stdout } = await lampdrift(["run", "scenarios/tidewater-lane.yaml", "--json"]);
    expect(readFileSync(join(reports["tidewater-lane"], "figures.json"), "utf8")).toBe(stdout);
    const rows = readFileSync(join(reports["tidewater-lane"], "scenes.csv"), "utf8").trim().split("\r\n").slice(1);
    const seconds = rows.reduce((sum, row) => sum + Number(row.split(",")[4]), 0);
    expect(seconds).toBeCloseTo((JSON.parse(stdout) as { observed: { seconds: number } }).observed.seconds, 6);
  });

  test("the picture in the README is that of the demo", () => {
    expect(readFileSync(join(project, "scenarios/tidewater-lane.svg"), "utf8")).toBe(readFileSync(join(reports["tidewater-lane"], "display.svg"), "utf8"));
  });

  test("--day shows another opening, and only one that there is", async () => {
    const page = readFileSync(join(await report("day", demo("twin-boards"), "--day", "3"), "index.html"), "utf8");
    expect(page).toContain("opening 3");
    const { status, stderr } = await lampdrift(["report", demo("twin-boards"), "-o", join(folder, "none"), "--day", "11"]);
    expect({ status, stderr }).toEqual({ status: 2, stderr: expect.stringContaining("expected 1 to 10") as string });
    expect(readdirSync(folder)).not.toContain("none");
  });
});

describe.skipIf(noBrowser)("the report in a browser", () => {
  const chromium = browser();

  test.each(Object.entries(reports))("%s on a phone, on a screen and on A4 paper: nothing cut, overlapping or too small, nothing wider than the page", async (_name, out) => {
    const page = await chromium.page(390);
    const complaints = complaintsOf(page);
    await page.goto(pathToFileURL(join(out, "index.html")).href);
    for (const width of [390, 1280]) {
      await widen(page, width);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      expect(await textFaults(page, 11.9), `${width} px`).toEqual([]);
    }
    expect(complaints).toEqual([]);
    // 210 mm less the margins of 14 mm on either side, at 96 px an inch
    await widen(page, Math.floor(((210 - 28) / 25.4) * 96));
    await page.emulateMedia({ media: "print" });
    const wide = await page.evaluate(() =>
      [...document.querySelectorAll("svg, table, p, li, h1, h2, h3")]
        .filter((element) => element.getBoundingClientRect().right > window.innerWidth + 1)
        .map((element) => `${element.tagName} ${element.textContent.slice(0, 40)}`),
    );
    expect(wide).toEqual([]);
    expect(await textFaults(page, 8.5)).toEqual([]);
    expect((await page.pdf({ preferCSSPageSize: true, printBackground: true })).subarray(0, 5).toString()).toBe("%PDF-");
    await page.close();
  });
});
