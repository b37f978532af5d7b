import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, test } from "vitest";
import { browser, noBrowser, textFaults } from "./browser.js";
import { demo, program, scratch } from "./command.js";
import { demoPages } from "./demopages.js";
import { lampdrift, unwrapped } from "./inprocess.js";

/** What a committee gets on paper. */

const folder = await scratch();
const pages = await demoPages();

async function summary(name: "tidewater-lane" | "twin-boards", ...options: string[]): Promise<string> {
  const out = join(folder, name);
  const { stderr } = await lampdrift(["report", demo(name), "-o", out, "--builds", "0", "--summary", ...options]);
  expect(stderr).toContain("wrote");
  return out;
}

const lane = await summary("tidewater-lane", "--by", "R. <Example>", "--dated", "2031-05-17");
const twins = await summary("twin-boards");

/** The words of a page, or of one of its lists. */
function wordsOf(file: string, part = /<body>[^]*/): string {
  const page = readFileSync(file, "utf8").replace(/<(script|style)\b[^]*?<\/\1>/g, "");
  return unwrapped(part.exec(page)![0].replace(/<[^>]*>/g, " "));
}

describe("the summary", () => {
  test("has the display, the verdicts of the report, what is asked, author and date", () => {
    const page = readFileSync(join(lane, "summary.html"), "utf8");
    expect(page).toContain("<svg");
    expect(page).toContain("R. &lt;Example&gt;, 2031-05-17, computed by lampdrift");
    const verdicts = wordsOf(join(lane, "index.html"), /<section class="verdicts"[^]*?<\/section>/);
    expect(wordsOf(join(lane, "summary.html"), /<ol>[^]*?<\/ol>/)).toBe(verdicts);
    expect(page.match(/<ol>[^]*?<\/ol>/)![0].match(/<li/g)).toHaveLength(5);
    const asked = wordsOf(join(lane, "summary.html"), /What is asked of the committee[^]*/);
    for (const what of ["To agree to what is promised: every step", "opening hours, Tue Wed", "2 min 50 s on board quay", "To name who looks after the display"]) {
      expect(asked).toContain(what);
    }
    expect(asked).toMatch(/Local codes .* licensed electrician/);
    expect(page).not.toMatch(/<(script|link|iframe|img)\b|url\((?!#)/);
  });

  test("asks about what is broken, and says nothing of author and date where there are none", () => {
    const words = wordsOf(join(twins, "summary.html"));
    expect(words).toMatch(/To say whether it may be so all the same, or what should give way: “[^”]+”/);
    expect(words).toMatch(/ computed by lampdrift \d+\.\d+\.\d+ from twin-boards\.yaml/);
    expect(words).not.toContain("2031");
  });

  test("is not written unless it is asked for, and a name is one line", async () => {
    expect(existsSync(join(await pages.report("tidewater-lane"), "summary.html"))).toBe(false);
    const { status, stderr } = await lampdrift(["report", demo("twin-boards"), "-o", join(folder, "none"), "--by", "a\nb"]);
    expect({ status, told: stderr.includes("expected a name of 1 to 80 characters on one line") }).toEqual({ status: 2, told: true });
  });
});

describe("the report for a committee", () => {
  test("tells limits that are well kept in a line, with the table in the builder's appendix", () => {
    const file = join(lane, "index.html");
    expect(wordsOf(file, /<section id="ratings"[^]*?<\/section>/)).toMatch(
      /^ ?Is everything inside its rating\? Nothing exceeds its limit\. All \d+ limits are well within; the fullest is .+ of .+, at [\d.]+ % of its limit\.$/,
    );
    const appendix = wordsOf(file, /<section id="limits"[^]*?<\/section>/);
    for (const word of ["For the builder", "driver channel current", "Where the limits come from"]) expect(appendix).toContain(word);
  });

  test("shows what is close or over, before the rest", async () => {
    const file = join(folder, "over.yaml");
    writeFileSync(file, `${readFileSync(demo("twin-boards"), "utf8")}supply: { limit: 50 mA }\n`);
    await lampdrift(["report", file, "-o", join(folder, "over"), "--builds", "0"]);
    const words = wordsOf(join(folder, "over", "index.html"), /<section id="ratings"[^]*?<\/section>/);
    expect(words).toMatch(/limits are exceeded\. The other \d+ are well within/);
    expect(words).toContain("over");
  });
});

describe.skipIf(noBrowser)("on paper", () => {
  const chromium = browser();

  test("the summary is one page of A4 or Letter, and the demo's report at most ten", async () => {
    const page = await chromium.page(1000);
    for (const [name, file, most] of [
      ["lane", join(lane, "summary.html"), 1],
      ["twins", join(twins, "summary.html"), 1],
      ["report", join(await pages.report("tidewater-lane"), "index.html"), 10],
    ] as const) {
      await page.goto(pathToFileURL(file).href);
      // what fits on Letter by its height is asked of the demo that has most to say
      for (const format of name === "twins" ? (["A4"] as const) : (["A4", "Letter"] as const)) {
        const path = join(folder, `${name}-${format}.pdf`);
        await page.pdf({ path, format, printBackground: true });
        const { stdout } = await program("pdfinfo", [path]);
        expect(Number(/^Pages:\s+(\d+)$/m.exec(stdout)![1]), `${name} on ${format}`).toBeLessThanOrEqual(most);
        if (most === 1) expect(unwrapped((await program("pdftotext", [path, "-"])).stdout)).toContain("looks after the display");
      }
    }
    await page.close();
  });

  test("nothing of the summary is cut, overlapping or too small", async () => {
    const page = await chromium.page(1000);
    await page.goto(pathToFileURL(join(lane, "summary.html")).href);
    expect(await textFaults(page, 8)).toEqual([]);
    await page.close();
  });
});
