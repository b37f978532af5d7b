/** The page of the demo that runs, in a real browser, opened from disk with the network off. */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { source as axeSource } from "axe-core";
import type { Page } from "playwright-core";
import { afterAll, describe, expect, test, vi } from "vitest";
import { browser, complaintsOf, inFront, noBrowser, widen } from "./browser.js";
import { demo } from "./command.js";
import { demoPages } from "./demopages.js";
import { lampdrift } from "./inprocess.js";
import { often } from "../thorough.js";

vi.setConfig({ testTimeout: 60_000 });

const chromium = browser();
const pages = await demoPages();

interface Opened {
  readonly page: Page;
  readonly complaints: readonly string[];
  /** Addresses of what the page asked for, other than itself. */
  readonly requests: readonly string[];
}

/** The demo's page, of all its days or of two, as somebody sees it who asked for less motion: it does not begin to play. */
async function opened(days: "all" | "two", hash = ""): Promise<Opened> {
  const page = await chromium.page(1000);
  // this page alone: others of its context may be served
  const network = await page.context().newCDPSession(page);
  await network.send("Network.enable");
  await network.send("Network.emulateNetworkConditions", { offline: true, latency: 0, downloadThroughput: -1, uploadThroughput: -1 });
  await page.emulateMedia({ reducedMotion: "reduce" });
  const complaints = complaintsOf(page);
  const folder = days === "all" ? await pages.report("tidewater-lane") : await pages.brief("tidewater-lane");
  const own = `file://${join(folder, "index.html")}`;
  const requests: string[] = [];
  page.on("request", (request) => request.url().split("#")[0] !== own && requests.push(request.url()));
  await page.goto(own + hash);
  await page.getByRole("button", { name: "Play" }).waitFor();
  return { page, complaints, requests };
}

const whole: Opened[] = [];
/** One for all questions that leave it as it was. */
async function shared(): Promise<Opened> {
  if (whole.length === 0) whole.push(await opened("all"));
  return inFront(whole[0]!);
}
const brief: Opened[] = [];
/** One of two days, opened at a moment of the second, for all that is done to it one after the other. */
async function used(): Promise<Opened> {
  if (brief.length === 0) brief.push(await opened("two", "#t=14:30:05&opening=2"));
  return inFront(brief[0]!);
}
afterAll(async () => {
  for (const { page } of [...whole, ...brief]) await page.close();
});

/** What a reader without eyes is told of an element. */
function description(page: Page): Promise<string> {
  return page.getByRole("img", { name: "Display" }).evaluate((image) =>
    (image.getAttribute("aria-describedby") ?? "").split(" ").map((id) => document.getElementById(id)!.textContent).join(" "),
  );
}

interface Row {
  readonly opening: number;
  /** Seconds since midnight of the opening's day. */
  readonly from: number;
  readonly until: number;
  readonly houses: readonly string[];
}

/** Of the demo's openings, so many are looked at. */
const LOOKED_AT = often(4, 30);

/** The record of them as `export` writes it; every opening begins at ten. */
let rows: Promise<Row[]> | undefined;
function record(): Promise<Row[]> {
  return (rows ??= recorded());
}

async function recorded(): Promise<Row[]> {
  const { stdout } = await lampdrift(["export", demo("tidewater-lane"), "--as", "csv", "--days", `1..${LOOKED_AT}`]);
  const midnights = new Map<number, number>();
  return stdout.trim().split(/\r?\n/).slice(1).map((line) => {
    const [opening, start, end, , , houses] = line.split(",");
    const k = Number(opening);
    if (!midnights.has(k)) midnights.set(k, Number(start) - 36_000);
    const midnight = midnights.get(k)!;
    return { opening: k, from: Number(start) - midnight, until: Number(end) - midnight, houses: houses!.split(" ").filter((id) => id !== "") };
  });
}

async function showTime(page: Page, seconds: number): Promise<void> {
  await page.getByRole("slider", { name: "Time of day" }).evaluate((slider: HTMLInputElement, value) => {
    slider.value = String(value);
    slider.dispatchEvent(new Event("input", { bubbles: true }));
  }, seconds);
}

describe.skipIf(noBrowser !== false)("the page that runs", () => {
  test("at many times the display is what the record says", async () => {
    const { page, complaints } = await shared();
    const rows = await record();
    const named = JSON.parse((await lampdrift(["export", demo("tidewater-lane"), "--as", "json", "--days", "1"])).stdout) as { houses: { id: string; name: string }[] };
    expect(rows.at(-1)!.opening).toBe(LOOKED_AT);
    expect(await page.getByRole("combobox", { name: "Opening" }).locator("option").count()).toBe(30);
    const moments = often(10, 40);
    for (let i = 0; i < moments; i++) {
      // spread over days and hours; the last one just before a change
      const k = 1 + ((i * 7) % LOOKED_AT);
      const row = rows.filter(({ opening }) => opening === k)[(i * 23) % 400]!;
      const time = i === moments - 1 ? row.until - 0.001 : (row.from + row.until) / 2;
      await page.getByRole("combobox", { name: "Opening" }).selectOption({ index: k - 1 });
      await showTime(page, time);
      const lit = named.houses.filter(({ id }) => row.houses.includes(id)).map(({ name }) => name);
      expect(await description(page), `opening ${k}, ${time} s`).toBe(`Lit: ${lit.join(", ")}`);
      expect(Number(await page.getByRole("slider", { name: "Time of day" }).inputValue())).toBeCloseTo(time, 3);
    }
    expect(complaints).toEqual([]);
  });

  test("its key figures are those of figures.json", async () => {
    const { page } = await shared();
    const told = JSON.parse(await readFile(join(await pages.report("tidewater-lane"), "figures.json"), "utf8")) as { readonly houses: readonly { readonly longestDarkSeconds: number }[] };
    const shown = await page.locator(".comparison tr[data-figure]").evaluateAll((rows) =>
      rows.map((row) => [row.getAttribute("data-figure")!, row.querySelector("td.planned data")?.getAttribute("value") ?? null] as const));
    expect(shown.length).toBeGreaterThan(10);
    for (const [name, value] of shown) {
      const expected = name === "houses.longestDarkSeconds"
        ? Math.max(...told.houses.map((house) => house.longestDarkSeconds))
        : name.split(/[.[\]]+/).filter((key) => key !== "").reduce<unknown>((of, key) => (of as Record<string, unknown>)[key], told);
      expect(value === null ? null : Number(value), name).toBe(expected);
    }
  });

  test("asks for nothing, and is no larger than a photo", async () => {
    const { page, complaints, requests } = await shared();
    expect((await readFile(join(await pages.report("tidewater-lane"), "index.html"))).length).toBeLessThan(1_200_000);
    expect(requests).toEqual([]);
    // what tries to leave is stopped by the page itself
    const went = await page.evaluate(() => fetch("https://example.org/").then(() => "gone", () => "stopped"));
    expect(went).toBe("stopped");
    expect(complaints.filter((text) => !text.includes("Content Security Policy"))).toEqual([]);
    expect(complaints.some((text) => text.includes("Content Security Policy"))).toBe(true);
  });

  test("a link opens it at a moment", async () => {
    const { page, complaints } = await used();
    const row = (await record()).find(({ opening, from, until }) => opening === 2 && from <= 52_205 && until > 52_205)!;
    expect((await description(page)).split(", ").length).toBe(row.houses.length);
    expect(await page.getByRole("slider", { name: "Time of day" }).inputValue()).toBe("52205");
    expect(await page.getByRole("combobox", { name: "Opening" }).inputValue()).toBe("1");
    expect(complaints).toEqual([]);
  });

  test("is walked through with keys alone", async () => {
    const { page, complaints } = await used();
    await page.getByRole("combobox", { name: "Opening" }).selectOption({ index: 0 });
    await page.evaluate(() => (document.activeElement as HTMLElement).blur());
    const names: string[] = [];
    for (let i = 0; i < 120; i++) {
      await page.keyboard.press("Tab");
      const name = await page.evaluate(() => {
        const at = document.activeElement as HTMLElement;
        if (at === document.body) return null;
        // whoever walks must see where he is
        if (getComputedStyle(at).outlineStyle === "none") return `unseen: ${at.outerHTML.slice(0, 80)}`;
        return at.getAttribute("aria-label") ?? at.closest("label")?.querySelector("span")?.textContent ?? at.textContent.trim().slice(0, 60);
      });
      if (name === null) break;
      names.push(name);
    }
    expect(names.filter((name) => name.startsWith("unseen"))).toEqual([]);
    for (const name of ["Display", "Time of day", "Play", "Next change", "Opening", "Speed", "Follow a house", "Keys", "Step time of quay", "Step time of village",
      "Step time of hill", "Open a file", "Save as a file", "Scenario", "Draw 200 builds", "What was found"]) expect(names).toContain(name);

    // the display by its keys
    await page.getByRole("img", { name: "Display" }).focus();
    const rows = (await record()).filter(({ opening }) => opening === 1);
    const time = async (): Promise<number> => Number(await page.getByRole("slider", { name: "Time of day" }).inputValue());
    await page.keyboard.press("Home");
    await page.keyboard.press("ArrowRight");
    expect(await time()).toBeCloseTo(rows[1]!.from, 3);
    await page.keyboard.press("End");
    expect(await time()).toBeCloseTo(17 * 3600, 3);
    await page.keyboard.press("ArrowLeft");
    expect(await time()).toBeCloseTo(rows.at(-2)!.from, 3);
    await page.keyboard.press("Home");
    expect(await time()).toBe(36_000);
    await page.keyboard.press("ArrowDown");
    expect(await page.getByRole("combobox", { name: "Opening" }).inputValue()).toBe("1");
    await page.keyboard.press("?");
    expect(await page.getByRole("dialog", { name: "Keys" }).isVisible()).toBe(true);
    await page.keyboard.press("Escape");
    await page.keyboard.press(" ");
    await page.getByRole("button", { name: "Pause" }).waitFor();
    await expect.poll(time).toBeGreaterThan(36_000);
    await page.keyboard.press(" ");
    await page.getByRole("button", { name: "Play" }).waitFor();
    expect(complaints).toEqual([]);
  });

  test("lines are numbered, and the bad one is marked where it is seen", async () => {
    const { page } = await used();
    await widen(page, 360);
    const area = page.getByRole("textbox", { name: "Scenario" });
    const text = await area.inputValue();
    const bad = text.split("\n").findIndex((line) => line.includes("kind: ring")) + 1;
    await area.fill(text.replace("kind: ring", "kind: rign"));
    await page.getByRole("list", { name: "Problems" }).getByRole("button").click();
    const mark = page.locator(".numbers b");
    expect(await mark.textContent()).toBe(`▶ ${bad}\n`);
    // the numbers follow the text when it has scrolled
    const below = async (): Promise<boolean> => {
      const [number, box] = [(await mark.boundingBox())!, (await page.locator(".editor").boundingBox())!];
      return number.y >= box.y + box.height;
    };
    await expect.poll(below).toBe(false);
    const [seen, field] = [(await mark.boundingBox())!, (await page.locator(".editor").boundingBox())!];
    expect(seen.width).toBeGreaterThan(10);
    expect(seen.x).toBeGreaterThanOrEqual(field.x);
    expect(seen.x + seen.width).toBeLessThanOrEqual((await area.boundingBox())!.x);
    expect(seen.y).toBeGreaterThan(field.y);
    expect(seen.y).toBeLessThan(field.y + field.height);
  });

  test("axe finds nothing to mend: in the light, in the dark, on a phone", async () => {
    const { page } = await used();
    await widen(page, 1000);
    await page.evaluate(axeSource);
    // with something tried, and something wrong in the text
    await page.getByRole("slider", { name: "Step time of quay" }).press("ArrowUp");
    await page.getByRole("textbox", { name: "Scenario" }).fill("lampdrift: 2\n");
    await page.getByRole("list", { name: "Problems" }).waitFor();
    const violations = (rules: readonly string[] | null): Promise<string[]> => page.evaluate(async (only) => {
      const { axe } = window as unknown as { axe: { run(options: object): Promise<{ violations: { id: string; nodes: { target: string[] }[] }[] }> } };
      const found = await axe.run(only === null ? {} : { runOnly: only });
      return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(" ")).join(", ")}`);
    }, rules);
    const tooWide = (): Promise<number> => page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    expect(await violations(null)).toEqual([]);
    expect(await tooWide()).toBeLessThanOrEqual(0);
    await page.emulateMedia({ colorScheme: "dark" });
    expect(await page.evaluate(() => matchMedia("(prefers-color-scheme: dark)").matches)).toBe(true);
    // nothing but colours is another in the dark
    expect(await violations(["color-contrast", "link-in-text-block"])).toEqual([]);
    await page.emulateMedia({ colorScheme: "light" });
    await page.setViewportSize({ width: 360, height: 900 });
    // what is for the builder is folded up on a phone
    await expect.poll(() => page.locator("details.fold[open]").count()).toBe(0);
    expect(await page.locator("#limits table").isVisible()).toBe(false);
    expect(await violations(null)).toEqual([]);
    await page.locator("#limits summary").first().click();
    expect(await page.locator("#limits table").isVisible()).toBe(true);
    // all of it is on paper
    await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
    expect(await page.locator("details.fold:not([open])").count()).toBe(0);
    await page.evaluate(() => dispatchEvent(new Event("afterprint")));
    expect(await page.locator("details.fold[open]").count()).toBe(1);
    expect(await tooWide()).toBeLessThanOrEqual(0);
  });
});
