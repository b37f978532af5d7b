/** The panels of the page that runs, in a real browser: what they show against what the command prints of the same file. */
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, describe, expect, test, vi } from "vitest";
import { parseDocument } from "yaml";
import { browser, complaintsOf, inFront, noBrowser } from "./browser.js";
import { briefly, demo, scratch, type demos } from "./command.js";
import { lampdrift, unwrapped } from "./inprocess.js";

vi.setConfig({ testTimeout: 60_000 });

type Demo = (typeof demos)[number];

const home = await scratch();
const chromium = browser();

/** The page of a scenario text, opened from disk; it complains of nothing. */
async function pageOf(name: string, text: string): Promise<{ page: Page; complaints: readonly string[] }> {
  const folder = join(home, name);
  await mkdir(folder, { recursive: true });
  await writeFile(join(folder, "plan.yaml"), text);
  expect((await lampdrift(["report", "plan.yaml", "-o", "out", "--builds", "0"], { cwd: folder })).stderr).toMatch(/^wrote /);
  const page = await chromium.page(1000);
  const complaints = complaintsOf(page);
  await page.goto(`file://${join(folder, "out/index.html")}`);
  // nothing moves while figures are compared
  const pause = page.getByRole("button", { name: "Pause" });
  if ((await pause.count()) > 0) await pause.click();
  return { page, complaints };
}

const opened = new Map<Demo, ReturnType<typeof pageOf>>();
/** The page of two days of a demo, one for all tests, with nothing tried on it. */
async function planned(name: Demo): Promise<{ page: Page; complaints: readonly string[]; text: string }> {
  const text = await demoText(name);
  const before = opened.get(name);
  if (before === undefined) opened.set(name, pageOf(name, text));
  const { page, complaints } = await inFront(await opened.get(name)!);
  const back = page.getByRole("button", { name: "Back to plan" });
  if (await back.isEnabled()) await back.click();
  return { page, complaints, text };
}
afterAll(async () => {
  for (const { page } of await Promise.all(opened.values())) await page.close();
});

const demoText = async (name: Demo): Promise<string> => briefly(await readFile(demo(name), "utf8"));

/** What a command says of a text, as a file called plan.yaml. */
async function told(args: readonly string[], text: string): Promise<{ stdout: string; stderr: string }> {
  const folder = join(home, "told");
  await mkdir(folder, { recursive: true });
  await writeFile(join(folder, "plan.yaml"), text);
  return lampdrift([args[0]!, "plan.yaml", ...args.slice(1)], { cwd: folder });
}

/** The text with other values at some paths: comments and all are the YAML library's business here. */
function changed(text: string, values: readonly (readonly [path: readonly (string | number)[], value: unknown])[]): string {
  const document = parseDocument(text);
  for (const [path, value] of values) document.setIn(path, value);
  return document.toString();
}

/** Key figures of the page by name, in full precision. */
function triedFigures(page: Page): Promise<Record<string, string | null>> {
  return page.evaluate(() =>
    Object.fromEntries(
      [...document.querySelectorAll<HTMLElement>(".comparison tr[data-figure]")].map((row) => [row.dataset["figure"]!, row.querySelector("td.tried data")?.getAttribute("value") ?? null]),
    ),
  );
}

/** The same figures among those that `run --json` prints. */
async function runFigures(text: string, names: readonly string[]): Promise<Record<string, string | null>> {
  const figures = JSON.parse((await told(["run", "--json"], text)).stdout) as Record<string, unknown>;
  const value = (name: string): unknown => {
    if (name === "houses.longestDarkSeconds") return Math.max(...(figures["houses"] as { longestDarkSeconds: number }[]).map(({ longestDarkSeconds }) => longestDarkSeconds));
    return name.split(/[.[\]]+/).filter((key) => key !== "").reduce<unknown>((all, key) => (all as Record<string, unknown>)[key], figures);
  };
  return Object.fromEntries(names.map((name) => [name, value(name) === null ? null : String(value(name))]));
}

async function expectFiguresOf(page: Page, text: string): Promise<void> {
  const names = Object.keys(await triedFigures(page));
  expect(names.length).toBeGreaterThan(10);
  const expected = await runFigures(text, names);
  await expect.poll(() => triedFigures(page)).toEqual(expected);
  const printed = unwrapped((await told(["run"], text)).stdout);
  const sentences = (): Promise<string[]> => page.locator("#found li").allTextContents();
  await expect.poll(async () => (await sentences()).filter((sentence) => !printed.includes(sentence))).toEqual([]);
  expect((await sentences()).length).toBeGreaterThan(3);
}

async function turnTo(page: Page, board: string, seconds: number): Promise<void> {
  await page.getByRole("slider", { name: `Step time of ${board}`, exact: true }).evaluate((slider: HTMLInputElement, value) => {
    slider.value = String(value);
    slider.dispatchEvent(new Event("input", { bubbles: true }));
  }, seconds);
}

/** Waits until the page has drawn what follows from a button or a knob: that is on the screen in the frame after. */
async function drawn(page: Page): Promise<void> {
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done)))));
}

/** What the page finds wrong with the text, once there is something. */
async function problemsOf(page: Page): Promise<string[]> {
  const list = page.getByRole("list", { name: "Problems" });
  await list.getByRole("listitem").first().waitFor();
  return list.getByRole("listitem").allTextContents();
}

describe.skipIf(noBrowser !== false)("knobs", () => {
  test("the page shows what `run` computes of the file with these settings: three boards, three settings", async () => {
    const { page, complaints, text } = await planned("tidewater-lane");
    for (const [quay, village, hill] of [[120, 100, 300], [268, 233, 160], [150, 150, 200]] as const) {
      await turnTo(page, "quay", quay);
      await turnTo(page, "village", village);
      await turnTo(page, "hill", hill);
      const set = [["quay", quay], ["village", village], ["hill", hill]] as const;
      await expectFiguresOf(page, changed(text, set.map(([id, step]) => [["boards", id, "timer", "setTo"], step])));
    }
    const slider = page.getByRole("slider", { name: "Step time of quay", exact: true });
    expect(await slider.getAttribute("aria-valuetext")).toBe("2 min 30 s; planned: 2 min 50 s");

    // the lines to copy make a variant that is what was tried
    const tried = await triedFigures(page);
    await page.getByRole("button", { name: "Copy settings" }).click();
    const lines = await page.getByRole("textbox", { name: "Tried settings" }).inputValue();
    await mkdir(join(home, "told"), { recursive: true });
    await writeFile(join(home, "told/base.yaml"), text);
    expect(await runFigures(`base: base.yaml\n${lines}\n`, Object.keys(tried))).toEqual(tried);

    await page.getByRole("button", { name: "Write into the text" }).click();
    const written = await page.getByRole("textbox", { name: "Scenario" }).inputValue();
    const onlyTimes = (all: string): string => all.replace(/setTo: .*/g, "setTo:");
    expect(onlyTimes(written)).toBe(onlyTimes(text));
    await drawn(page);
    expect(await triedFigures(page)).toEqual(tried);

    await page.getByRole("button", { name: "Back to plan" }).click();
    await drawn(page);
    expect(Object.values(await triedFigures(page)).every((value) => value === null)).toBe(true);
    expect(await slider.inputValue()).toBe("170");
    expect(complaints).toEqual([]);
  });

  test("dial, wheel, keys and typing turn the same knob; what cannot be set is said", async () => {
    const { page, complaints } = await planned("twin-boards");
    const slider = page.getByRole("slider", { name: /^Step time of/ }).first();
    const board = (await slider.getAttribute("aria-label"))!.replace("Step time of ", "");
    const group = page.getByRole("group", { name: `Board ${board}`, exact: true });
    const now = async (): Promise<number> => Number(await slider.inputValue());
    const start = await now();
    const grain = Number(await slider.getAttribute("step"));
    await slider.focus();
    await page.keyboard.press("ArrowUp");
    expect(await now()).toBeCloseTo(start + grain, 9);
    await group.locator("svg.dial").scrollIntoViewIfNeeded();
    await group.locator("svg.dial").hover();
    await page.mouse.wheel(0, 100);
    await expect.poll(now).toBeCloseTo(start, 9);
    const { x, y, width, height } = (await group.locator("svg.dial").boundingBox())!;
    await page.mouse.move(x + width / 2, y + height * 0.1);
    await page.mouse.down();
    await page.mouse.move(x + width * 0.8, y + height * 0.25, { steps: 4 });
    await page.mouse.up();
    await expect.poll(now).toBeGreaterThan(start + 2 * grain);
    // a finger that goes down over the scale scrolls, one that is on the knob turns it
    const touch = await page.context().newCDPSession(page);
    const swipe = async (across: number, down: number): Promise<void> => {
      const dial = (await group.locator("svg.dial").boundingBox())!;
      const at = (i: number): { x: number; y: number }[] => [{ x: dial.x + dial.width * across, y: dial.y + dial.width * down + 8 * i }];
      await touch.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: at(0) });
      for (const i of [1, 2, 3, 4, 5, 6]) await touch.send("Input.dispatchTouchEvent", { type: "touchMove", touchPoints: at(i) });
      await touch.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
    };
    const turned = await now();
    await swipe(0.15, 0.5);
    await page.waitForTimeout(200);
    expect(await now()).toBe(turned);
    await swipe(0.57, 0.5);
    await expect.poll(now).not.toBe(turned);
    // on paper it says that this is not the plan
    await page.emulateMedia({ media: "print" });
    expect(await page.locator("#found h2").isVisible()).toBe(true);
    expect(await page.locator(".verdicts .trial").innerText()).toBe("This is what is being tried out, not the plan.");
    await page.emulateMedia({ media: null });
    const field = page.getByRole("textbox", { name: `Type a step time for ${board}`, exact: true });
    await field.fill("for ever");
    await field.press("Enter");
    expect(await group.locator("[role=alert]").textContent()).toMatch(/^Expected a duration/);
    const most = Number(await slider.getAttribute("max"));
    await field.fill(`${most} s`);
    await field.press("Enter");
    await expect.poll(now).toBe(most);
    expect(await group.locator("[role=alert]").textContent()).toBe("");
    expect(complaints).toEqual([]);
  });

  test("a measured and a quartz board have a step time to try", async () => {
    const text = `lampdrift: 1
title: Two sheds
opening: { from: "10:00", until: "12:00", run: 2 }
houses: { shed: { name: Shed }, barn: }
boards:
  yard: { timer: { kind: measured, step: 61 s }, counter: { kind: ring, steps: 2 }, outputs: { 0: shed } }
  lane: { timer: { kind: quartz, step: 73.5 s }, counter: { kind: binary, bits: 1 }, outputs: { 0: barn } }
`;
    const { page, complaints } = await pageOf("without-knobs", text);
    await turnTo(page, "yard", 50);
    await turnTo(page, "lane", 90.5);
    await expectFiguresOf(page, text.replace("step: 61 s", "step: 50 s").replace("73.5", "90.5"));
    expect(complaints).toEqual([]);
    await page.close();
  });
});

describe.skipIf(noBrowser !== false)("the scenario text", () => {
  test("edited, the page shows what `run` computes of it; with slips, what `check` says of them", async () => {
    const { page, complaints, text } = await planned("twin-boards");
    const area = page.getByRole("textbox", { name: "Scenario" });
    expect(await area.inputValue()).toBe(text);
    const other = text.replace(/run: \d+/, "run: 4").replace("setTo: 100 s", "setTo: 1 min 45 s");
    expect(other).not.toBe(text);
    await area.fill(other);
    await expectFiguresOf(page, other);
    expect(await page.getByRole("list", { name: "Problems" }).count()).toBe(0);

    const before = await triedFigures(page);
    const slips = other.replace("kind: ring", "kind: rign").replace("title:", "titel:");
    await area.fill(slips);
    const problems = await problemsOf(page);
    const { stderr } = await told(["check"], slips);
    expect(problems.length).toBeGreaterThan(1);
    expect(problems).toEqual(stderr.trimEnd().split("\n").slice(0, -1));
    // what was last good stays
    await drawn(page);
    expect(await triedFigures(page)).toEqual(before);

    // one slip in the syntax
    const open = text.replace("\nboards:", "\nboards: [");
    await area.fill(open);
    const [first] = (await told(["check"], open)).stderr.split("\n");
    await expect.poll(async () => (await problemsOf(page))[0]).toBe(first);

    await page.getByRole("button", { name: "Back to plan" }).click();
    expect(await area.inputValue()).toBe(text);
    expect(await page.getByRole("list", { name: "Problems" }).count()).toBe(0);
    await page.getByRole("button", { name: "Bring my edits back" }).click();
    expect(await area.inputValue()).toContain("boards: [");
    expect(complaints).toEqual([]);
  });

  test("names that are markup stay names", async () => {
    const hostile = "<img src=x onerror=alert(1)></textarea><script>alert(2)</script>";
    const text = `lampdrift: 1
title: ${JSON.stringify(hostile)}
opening: { until: "02:00", run: 2 }
houses: { shed: { name: ${JSON.stringify(hostile)}, zone: yard } }
boards: { yard: { timer: { kind: quartz, step: 73 s }, counter: { kind: ring, steps: 2 }, outputs: { 0: shed } } }
promises: [{ zoneLit: { zone: yard, atLeast: 90 % } }]
`;
    const { page, complaints } = await pageOf("hostile", text);
    await page.getByRole("textbox", { name: "Scenario" }).fill(text.replaceAll("img", "img id=put"));
    await turnTo(page, "yard", 60);
    await drawn(page);
    await page.getByRole("textbox", { name: "Scenario" }).fill(text.replace("zone: yard, atLeast", `${JSON.stringify(hostile)}: 1, atLeast`));
    expect((await problemsOf(page)).join("\n")).toContain("onerror");
    expect(await page.evaluate(() => document.querySelectorAll("img, script:not([type]):not(:last-of-type)").length)).toBe(0);
    expect(complaints).toEqual([]);
    await page.close();
  });
});

describe.skipIf(noBrowser !== false)("houses in the picture", () => {
  test("dragged, a house has another place in the text; comments and all other lines stay", async () => {
    const { page, complaints, text } = await planned("tidewater-lane");
    const canvas = page.getByRole("img", { name: "Display" });
    await canvas.scrollIntoViewIfNeeded();
    const { x, y, width, height } = (await canvas.boundingBox())!;
    const picked = page.getByRole("combobox", { name: "Follow a house" });
    let from: [number, number] | undefined;
    for (let across = 0.1; across < 0.95 && from === undefined; across += 0.05) {
      await page.mouse.click(x + width * across, y + height * 0.7);
      if ((await picked.inputValue()) !== "") from = [x + width * across, y + height * 0.7];
    }
    const house = await picked.inputValue();
    await page.getByRole("button", { name: "Move houses" }).click();
    await page.mouse.move(...from!);
    await page.mouse.down();
    await page.mouse.move(from![0] + 40, from![1] + 12, { steps: 3 });
    await page.mouse.up();
    const area = page.getByRole("textbox", { name: "Scenario" });
    await expect.poll(() => area.inputValue()).not.toBe(text);
    const [before, after] = [text.split("\n"), (await area.inputValue()).split("\n")];
    expect(after.length).toBe(before.length);
    const other = after.filter((line, i) => line !== before[i]);
    expect(other.length).toBe(1);
    expect(other[0]).toMatch(new RegExp(`^  ${house}: .* at: \\[-?\\d+, -?\\d+\\] \\}$`));
    const place = (lines: readonly string[]): number[] => (parseDocument(lines.join("\n")).toJS() as { houses: Record<string, { at: number[] }> }).houses[house]!.at;
    expect(place(after)[0]).toBeGreaterThan(place(before)[0]!);
    expect(place(after)[1]).toBeGreaterThan(place(before)[1]!);

    // a finger does the same, back to where the house was
    const touch = await page.context().newCDPSession(page);
    const at = (i: number): { x: number; y: number }[] => [{ x: from![0] + 40 * (1 - i / 4), y: from![1] + 12 * (1 - i / 4) }];
    await touch.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: at(0) });
    for (const i of [1, 2, 3, 4]) await touch.send("Input.dispatchTouchEvent", { type: "touchMove", touchPoints: at(i) });
    await touch.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
    await expect.poll(async () => (await area.inputValue()).split("\n").filter((line, i) => line !== after[i]).length).toBe(1);
    const back = place((await area.inputValue()).split("\n"));
    expect(Math.hypot(back[0]! - place(before)[0]!, back[1]! - place(before)[1]!)).toBeLessThan(4);
    expect(complaints).toEqual([]);
  });
});

describe.skipIf(noBrowser !== false)("builds in the page", () => {
  test("are those of `spread`, of what is tried", async () => {
    const { page, complaints, text } = await planned("twin-boards");
    const slider = page.getByRole("slider", { name: /^Step time of/ }).first();
    const board = (await slider.getAttribute("aria-label"))!.replace("Step time of ", "");
    const step = Number(await slider.inputValue()) + 5;
    await turnTo(page, board, step);
    await page.getByRole("button", { name: "Draw 200 builds" }).click();
    await expect.poll(() => page.locator(".builds [role=status]").textContent(), { timeout: 40_000 }).toBe("200 builds of what is tried drawn.");
    const rows = await page.locator(".builds table").first().locator("tbody tr").evaluateAll((all) => all.map((row) => [...row.children].map((cell) => cell.textContent)));
    const spread = JSON.parse((await told(["spread", "--builds", "200", "--workers", "1", "--json"], changed(text, [[["boards", board, "timer", "setTo"], step]]))).stdout) as {
      promises: { text: string; kept: number }[];
      allKept: { kept: number };
    };
    expect(rows.map(([promise, kept]) => [promise, kept])).toEqual([
      ...spread.promises.map(({ text: promise, kept }) => [promise, `${kept} of 200`]),
      ["all of them", `${spread.allKept.kept} of 200`],
    ]);
    expect(await page.locator(".builds svg").count()).toBe(2);
    expect(complaints).toEqual([]);
  });
});

// what is opened is the plan from then on
describe.skipIf(noBrowser !== false)("files", () => {
  test("known keys at the cursor; files are opened, a variant with its base, and saved as they stand", async () => {
    const { page, complaints, text } = await planned("twin-boards");
    const area = page.getByRole("textbox", { name: "Scenario" });
    await area.evaluate((field: HTMLTextAreaElement) => {
      field.focus();
      const at = field.value.indexOf("kind: astable");
      field.setSelectionRange(at, at);
    });
    await expect.poll(() => page.locator(".known").textContent()).toMatch(/^Known keys here: kind, ra, rb, c, trimmer/);
    // a button below is still there when the finger that presses it has left the text
    const below = (): Promise<number> => area.evaluate((field) => document.querySelector(".builds")!.getBoundingClientRect().y - field.getBoundingClientRect().y);
    const before = await below();
    await area.blur();
    expect(await below()).toBe(before);

    const variant = "# only the hours differ\nbase: other/harbour.yaml\nopening: { run: 3 }\n";
    await page.locator("input[type=file]").setInputFiles([
      { name: "variant.yaml", mimeType: "application/yaml", buffer: Buffer.from(variant) },
      { name: "harbour.yaml", mimeType: "application/yaml", buffer: Buffer.from(text) },
    ]);
    await expect.poll(() => area.inputValue()).toBe(variant);
    expect(await page.getByRole("list", { name: "Problems" }).count()).toBe(0);
    await expect.poll(() => page.locator("#found .size").textContent()).toContain("3 openings");
    await page.locator("input[type=file]").setInputFiles([{ name: "alone.yaml", mimeType: "application/yaml", buffer: Buffer.from(variant) }]);
    await expect.poll(() => page.getByRole("list", { name: "Problems" }).textContent()).toContain("alone.yaml:2:7: base: found \"other/harbour.yaml\"; open this file together with");
    const [saved] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Save as a file" }).click()]);
    expect(saved.suggestedFilename()).toBe("alone.yaml");
    await saved.saveAs(join(home, "saved.yaml"));
    expect(await readFile(join(home, "saved.yaml"), "utf8")).toBe(variant);
    expect(complaints).toEqual([]);
  });
});
