import { chromium, type Browser, type BrowserContext, type Page } from "playwright-core";
import { noBrowser } from "../chromium.js";

export { noBrowser };

/** All files of a worker share one connection to the one browser of the run (`test/setup.ts`). */
let connected: Promise<Browser> | undefined;

async function connect(): Promise<Browser> {
  const asked = await fetch(process.env["LAMPDRIFT_BROWSER"]!);
  const answer = await asked.text();
  if (!asked.ok) throw new Error(answer);
  return chromium.connect(answer);
}

/**
 * One context, too, with a page that stays open: pages of one context are drawn by one process, in which the page's script is
 * compiled once. A page in a new context takes three times as long to load.
 */
let context: Promise<BrowserContext> | undefined;

async function inOneProcess(): Promise<BrowserContext> {
  connected ??= connect();
  const made = await (await connected).newContext({ reducedMotion: "reduce" });
  await (await made.newPage()).goto(import.meta.url);
  return made;
}

/** Pages in a headless browser; what could move is at rest. */
export function browser(): { page(width: number): Promise<Page> } {
  return {
    page: async (width) => {
      context ??= inOneProcess();
      const page = await (await context).newPage();
      await page.setViewportSize({ width, height: 900 });
      return page;
    },
  };
}

/** Brings a page that was left open before those opened since: behind others it would be drawn once a second. */
export async function inFront<T extends { readonly page: Page }>(opened: T): Promise<T> {
  await opened.page.bringToFront();
  return opened;
}

/** Gives a page another width, as somebody does who turns a phone round, and waits until it is drawn anew. */
export async function widen(page: Page, width: number): Promise<void> {
  await page.setViewportSize({ width, height: 900 });
  // what watches its own size draws in the frame after the one in which the size has changed
  await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(() => requestAnimationFrame(resolve)))));
}

/** What a page complains of from now on: words on its console, errors, dialogs; the list grows as it does. */
export function complaintsOf(page: Page): readonly string[] {
  const complaints: string[] = [];
  page.on("console", (message) => complaints.push(message.text()));
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("dialog", (dialog) => {
    complaints.push("a dialog opened");
    void dialog.dismiss();
  });
  return complaints;
}

/** What is wrong with the text in the pictures of a page: boxes that overlap or leave their picture, letters too small. */
export async function textFaults(page: Page, smallest: number): Promise<string[]> {
  return page.evaluate((least) => {
    const faults: string[] = [];
    for (const svg of document.querySelectorAll("svg")) {
      const frame = svg.getBoundingClientRect();
      // not shown at all
      if (frame.width === 0) continue;
      const name = svg.querySelector("title")?.textContent ?? "picture";
      const scale = frame.width / svg.viewBox.baseVal.width;
      const texts = [...svg.querySelectorAll("text")].map((element) => ({
        text: element.textContent,
        box: element.getBoundingClientRect(),
        size: parseFloat(getComputedStyle(element).fontSize) * scale,
      }));
      texts.forEach(({ text, box, size }, i) => {
        if (size < least) faults.push(`${name}: "${text}" is ${size.toFixed(1)} px`);
        if (box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1) {
          faults.push(`${name}: "${text}" leaves the picture`);
        }
        for (const other of texts.slice(i + 1)) {
          const across = Math.min(box.right, other.box.right) - Math.max(box.left, other.box.left);
          // the box of a line of text is taller than its letters
          const down = Math.min(box.bottom, other.box.bottom) - Math.max(box.top, other.box.top);
          if (across > 1 && down > 0.35 * Math.min(box.height, other.box.height)) faults.push(`${name}: "${text}" over "${other.text}"`);
        }
      });
    }
    return faults;
  }, smallest);
}
