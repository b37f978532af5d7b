import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, CDPSession, Page } from "playwright-core";
import { chromium } from "playwright-core";
import { noBrowser, startChromium } from "../chromium.js";
import { demo, runCommand } from "./commands.js";
import { median, row } from "./measure.js";

/** Moves of a knob that are timed, and the pause after each, in which the rest of the page follows. */
const MOVES = 30;
const CALM = 700;
/** Seconds of playing of which the frames are counted. */
const PLAYED = 10;
const COLD = 5;

/** The page in a real browser: its first picture, a knob, playing, and its memory over so many minutes of playing. */
export async function benchPage(minutes: number): Promise<void> {
  if (noBrowser !== false) {
    console.log(`  the page: left out, ${noBrowser}`);
    return;
  }
  const folder = mkdtempSync(join(tmpdir(), "lampdrift-bench-page-"));
  const server = await startChromium();
  try {
    const browser = await chromium.connect(server.wsEndpoint());
    const town = join(folder, "town.yaml");
    writeFileSync(town, townOf500());
    runCommand(["report", demo, "-o", join(folder, "demo"), "--builds", "20"], { rounds: 1 });
    runCommand(["report", town, "-o", join(folder, "town"), "--builds", "0"], { rounds: 1 });
    const address = (name: string): string => `file://${join(folder, name, "index.html")}`;
    console.log(`  the page, load ${loadavg()[0]!.toFixed(1)} at its beginning`);
    await benchFirst(browser, address("demo"));
    await benchKnob(browser, address("demo"));
    await benchFrames(browser, address("town"));
    await benchMemory(browser, address("demo"), minutes);
  } finally {
    await server.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** 500 houses on a grid, lit by fifty rings of ten that step every 50 to 99 s. */
function townOf500(): string {
  const houses = Array.from({ length: 500 }, (_, i) => `  h${i}: { at: [${(i % 25) * 30}, ${Math.floor(i / 25) * 22}] }`);
  const boards = Array.from({ length: 50 }, (_, b) => {
    const outputs = Array.from({ length: 10 }, (__, output) => `${output}: h${b * 10 + output}`);
    return `  b${b}: { timer: { kind: quartz, step: ${50 + b} s }, counter: { kind: ring, steps: 10 }, outputs: { ${outputs.join(", ")} } }`;
  });
  const opening = `opening: { from: "10:00", until: "17:00", run: 3 }`;
  return `lampdrift: 1\ntitle: Town\n${opening}\nhouses:\n${houses.join("\n")}\nboards:\n${boards.join("\n")}\n`;
}

/** Seconds of processor time that the page's own thread has taken, and how long its tasks were. */
async function meter(page: Page): Promise<{ readonly cpu: () => Promise<number>; readonly session: CDPSession }> {
  const session = await page.context().newCDPSession(page);
  await session.send("Performance.enable", { timeDomain: "threadTicks" });
  const cpu = async (): Promise<number> => {
    const { metrics } = await session.send("Performance.getMetrics");
    return metrics.find(({ name }) => name === "TaskDuration")!.value;
  };
  return { cpu, session };
}

/** From the opening of the file to its first picture, in a profile that has never seen it. */
async function benchFirst(browser: Browser, address: string): Promise<void> {
  const found: number[] = [];
  for (let i = 0; i < COLD; i++) {
    const context = await browser.newContext();
    const page = await context.newPage();
    await page.goto(address);
    await page.getByRole("button", { name: "Pause" }).waitFor();
    // the display is painted in the first frame after the script has run
    found.push(await page.evaluate(() => new Promise<number>((resolve) => requestAnimationFrame(() => setTimeout(() => resolve(performance.now()))))));
    await context.close();
  }
  row("page of the demo: first picture, cold", median(found) / 1000, "s", { atMost: 1 });
}

async function opened(browser: Browser, address: string, playing: boolean): Promise<Page> {
  const page = await browser.newPage({ viewport: { width: 1280, height: 900 }, reducedMotion: playing ? "no-preference" : "reduce" });
  await page.goto(address);
  await page.getByRole("button", { name: playing ? "Pause" : "Play" }).waitFor();
  await page.waitForTimeout(2000);
  return page;
}

/** From a knob's move to the frame that shows it, with the knobs on screen. */
async function benchKnob(browser: Browser, address: string): Promise<void> {
  const page = await opened(browser, address, false);
  await page.locator("#knobs").evaluate((heading) => heading.scrollIntoView({ behavior: "instant" }));
  await page.waitForTimeout(CALM);
  const { cpu } = await meter(page);
  const [walls, cpus]: [number[], number[]] = [[], []];
  for (let i = 0; i < MOVES; i++) {
    const before = await cpu();
    walls.push(await page.getByRole("slider", { name: "Step time of quay" }).evaluate((slider: HTMLInputElement, value) => new Promise<number>((resolve) => {
      const start = performance.now();
      slider.value = String(value);
      slider.dispatchEvent(new Event("input", { bubbles: true }));
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = (): void => resolve(performance.now() - start);
        port2.postMessage(0);
      });
    }), 120 + i * 3));
    cpus.push(await cpu() - before);
    await page.waitForTimeout(CALM);
  }
  row("page of the demo: a knob's move to its frame", median(walls), "ms", { atMost: 50 });
  row("  of the page's own thread", median(cpus) * 1000, "ms", { atMost: 50 });
  await page.close();
}

/** Playing 500 houses: frames a second, and what one costs. */
async function benchFrames(browser: Browser, address: string): Promise<void> {
  const page = await opened(browser, address, true);
  const { cpu } = await meter(page);
  const before = await cpu();
  const lengths = await page.evaluate((seconds) => new Promise<number[]>((resolve) => {
    const found: number[] = [];
    let last = performance.now();
    const end = last + seconds * 1000;
    const frame = (): void => {
      const now = performance.now();
      found.push(now - last);
      last = now;
      if (now < end) requestAnimationFrame(frame);
      else resolve(found);
    };
    requestAnimationFrame(frame);
  }), PLAYED);
  const each = ((await cpu()) - before) / lengths.length;
  row("playing 500 houses: frames a second, median", 1000 / median(lengths), "/s", { atLeast: 59 });
  row("  a frame of the page's own thread", each * 1000, "ms", { atMost: 8 });
  await page.close();
}

/** Memory after rubbish is cleared, over minutes of playing at 2,000 times the speed, with a change of picture in every frame. */
async function benchMemory(browser: Browser, address: string, minutes: number): Promise<void> {
  const page = await opened(browser, address, true);
  const { session } = await meter(page);
  const megabytes = async (): Promise<number> => {
    await session.send("HeapProfiler.collectGarbage");
    return (await session.send("Runtime.getHeapUsage")).usedSize / 1e6;
  };
  await page.getByRole("combobox", { name: "Speed" }).selectOption("2000");
  await page.waitForTimeout(3000);
  const found = [await megabytes()];
  for (let i = 0; i < 10; i++) {
    const end = Date.now() + minutes * 6000;
    while (Date.now() < end) {
      // at the end of the run it begins again
      const play = page.getByRole("button", { name: "Play", exact: true });
      if (await play.isVisible()) await play.click();
      await page.waitForTimeout(Math.min(1000, minutes * 6000));
    }
    found.push(await megabytes());
  }
  console.log(`  heap after ${found.map((_, i) => i).join(", ")} tenths of ${minutes} min: ${found.map((one) => one.toFixed(1)).join(", ")} MB`);
  const half = found.length >> 1;
  row("page: growth of its heap over the second half", Math.max(...found.slice(half)) - found[half]!, "MB", { atMost: 1 });
  await page.close();
}
