/** A picture of the display under its houses: what is taken for one, and what the report and the page make of it. */
import { cp, mkdir, readFile, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { source as axeSource } from "axe-core";
import type { Page } from "playwright-core";
import { describe, expect, test, vi } from "vitest";
import { pictureFacts } from "../../sim/scenario/picture.js";
import { browser, complaintsOf, noBrowser } from "./browser.js";
import { briefly, project, scratch } from "./command.js";
import { lampdrift } from "./inprocess.js";

vi.setConfig({ testTimeout: 60_000 });

const home = await scratch();
const chromium = browser();

const PLAN = `lampdrift: 1
title: Two lamps
picture: photo.svg
opening: { from: "10:00", until: "11:00", run: 2 }
houses: { left: { name: Shed, at: [100, 60] }, right: { name: Shed, at: [300, 60] } }
boards: { yard: { timer: { kind: quartz, step: 73 s }, counter: { kind: ring, steps: 2 }, outputs: { 0: left, 1: right } } }
`;
const GREY = '<svg xmlns="http://www.w3.org/2000/svg" width="400" height="120"><rect width="400" height="120" fill="#888"/></svg>';

/** A folder with the plan, its picture, and other files. */
async function folderWith(name: string, files: Readonly<Record<string, string | Uint8Array>>): Promise<string> {
  const folder = join(home, name);
  await mkdir(join(folder, "below"), { recursive: true });
  for (const [file, content] of Object.entries({ "plan.yaml": PLAN, ...files })) await writeFile(join(folder, file), content);
  return folder;
}

const check = async (folder: string, picture: string): Promise<string> => {
  await writeFile(join(folder, "plan.yaml"), PLAN.replace("photo.svg", JSON.stringify(picture)).replace("steps: 2", "steps: two"));
  const { status, stderr } = await lampdrift(["check", "plan.yaml"], { cwd: folder });
  expect(status).toBe(2);
  // what else is wrong is told in one go
  expect(stderr).toContain("plan.yaml:6:");
  return stderr.split("\n").find((line) => line.startsWith("plan.yaml:3:")) ?? stderr;
};

describe("what is taken for a picture", () => {
  test.each<[what: string, picture: string, file: string | Uint8Array, said: RegExp]>([
    ["a file that is not there", "gone.jpg", "", /^plan\.yaml:3:10: picture: found "gone\.jpg"; expected a JPEG, PNG or SVG picture; gone\.jpg: there is no such file$/],
    ["a picture of another kind, whatever its name", "photo.jpg", "GIF89a and so on", /found "photo\.jpg"; expected a JPEG, PNG or SVG picture; this is a GIF$/],
    ["a photo of a phone's own kind", "photo.jpg", "\0\0\0\x18ftypheic", /this is a HEIC photo/],
    ["a text", "photo.svg", "not a drawing <svg>", /this file begins like none of them$/],
    ["a page that has a drawing in it", "photo.svg", "<html><svg width='1' height='1'></svg></html>", /begins like none of them$/],
    ["an empty file", "photo.png", "", /this file is empty$/],
    ["a damaged photo", "photo.jpg", new Uint8Array([0xff, 0xd8, 0xff, 0xe0, 0, 4, 0, 0]), /damaged or does not say how large it is/],
    ["a drawing without a size", "photo.svg", "<svg xmlns='http://www.w3.org/2000/svg'/>", /damaged or does not say how large/],
    ["one that is too large", "photo.svg", GREY + " ".repeat(4_000_000), /the picture has 4\.01 MB; expected at most 4 MB/],
    ["a directory", "below", "", /found "below"; expected a JPEG, PNG or SVG picture; below is a directory$/],
    ["a picture outside", "../photo.svg", GREY, /expected the name of a picture beside the scenario file, or in a folder below it$/],
    ["one by its whole path", join(home, "photo.svg"), GREY, /expected the name of a picture beside the scenario file, or in a folder below it$/],
    ["one whose path leads out and back", "below/../../photo.svg", GREY, /expected the name of a picture beside/],
  ])("not %s", async (what, picture, file, said) => {
    const folder = await folderWith(`wrong-${what.replaceAll(/\W/g, "-")}`, picture === "below" || picture === "gone.jpg" || picture.includes("/") ? {} : { [picture]: file });
    await writeFile(join(home, "photo.svg"), GREY);
    expect(await check(folder, picture)).toMatch(said);
  });

  test("not a link that leads out of the folder; one inside is as good as the file", async () => {
    await writeFile(join(home, "secret.svg"), GREY);
    const folder = await folderWith("links", { "photo.svg": GREY });
    await symlink(join(home, "secret.svg"), join(folder, "out.svg"));
    await symlink("photo.svg", join(folder, "in.svg"));
    expect(await check(folder, "out.svg")).toMatch(/beside the scenario file, or in a folder below it; out\.svg is a link to another place$/);
    await writeFile(join(folder, "plan.yaml"), PLAN.replace("photo.svg", "in.svg"));
    expect((await lampdrift(["check", "plan.yaml"], { cwd: folder })).status).toBe(0);
  });

  test("a variant has its base's picture, beside the base; null takes it away; a house beyond its edge is a warning", async () => {
    const folder = await folderWith("variant", { "below/photo.svg": GREY });
    await writeFile(join(folder, "below/plan.yaml"), PLAN);
    await writeFile(join(folder, "far.yaml"), "base: below/plan.yaml\nhouses: { right: { at: [401, 60] } }\n");
    const far = await lampdrift(["check", "far.yaml"], { cwd: folder });
    expect(far).toMatchObject({ status: 0 });
    expect(far.stderr).toBe("far.yaml:2:24: warning: houses.right.at: [401, 60] lies outside of the picture, which is 400 pixels wide and 120 high\n");
    await writeFile(join(folder, "without.yaml"), "base: below/plan.yaml\npicture: null\nhouses: { right: { at: [401, 60] } }\n");
    expect(await lampdrift(["check", "without.yaml"], { cwd: folder })).toMatchObject({ status: 0, stderr: "" });
  });
});

/** What a browser finds the size of a picture to be. */
function sizeInBrowser(page: Page, address: string): Promise<[number, number]> {
  return page.evaluate(async (from) => {
    const image = new Image();
    image.src = from;
    await image.decode();
    return [image.naturalWidth, image.naturalHeight] as [number, number];
  }, address);
}

describe.skipIf(noBrowser !== false)("pictures in a browser", () => {
  test("their size is what the browser says, of photos taken upright too", async () => {
    const page = await chromium.page(400);
    const drawn = await page.evaluate(() => {
      const canvas = document.createElement("canvas");
      [canvas.width, canvas.height] = [30, 20];
      return ["image/png", "image/jpeg"].map((type) => canvas.toDataURL(type));
    });
    const addresses = [...drawn, ...["width='37.5' height='12'", "width='40mm' height='30mm'"].map((size) => `data:image/svg+xml;base64,${btoa(`<?xml version="1.0"?>\n<!-- <svg> --><svg xmlns='http://www.w3.org/2000/svg' ${size}/>`)}`)];
    // Exif 2.32 (CIPA DC-008), 4.6.4, tag 274: 6 lays the photo on its side
    const exif = [0xff, 0xe1, 0, 34, ...Buffer.from("Exif\0\0MM\0*"), 0, 0, 0, 8, 0, 1, 1, 0x12, 0, 3, 0, 0, 0, 1, 0, 6, 0, 0, 0, 0, 0, 0];
    const jpeg = Buffer.from(drawn[1]!.split(",")[1]!, "base64");
    addresses.push(`data:image/jpeg;base64,${Buffer.concat([jpeg.subarray(0, 2), Buffer.from(exif), jpeg.subarray(2)]).toString("base64")}`);
    for (const address of addresses) {
      const found = pictureFacts(Buffer.from(address.split(",")[1]!, "base64"));
      if (typeof found === "string") throw new Error(`${found}: ${address}`);
      const [width, height] = await sizeInBrowser(page, address);
      expect(address).toContain(`data:${found.type}`);
      expect([Math.abs(found.width - width) <= 1, Math.abs(found.height - height) <= 1], `${found.width} × ${found.height}, seen: ${width} × ${height}`).toEqual([true, true]);
    }
    expect(await sizeInBrowser(page, addresses.at(-1)!)).toEqual([20, 30]);
    await page.close();
  });

  test("in the page a house that is lit glows on the picture, and no script of the picture runs", async () => {
    const hostile = GREY.replace("<rect", "<script>parent.ran = top.ran = true; fetch('https://example.org')</script><rect onload='alert(1)'");
    const folder = await folderWith("page", { "photo.svg": hostile });
    expect((await lampdrift(["report", "plan.yaml", "-o", "out", "--builds", "0"], { cwd: folder })).stderr).toMatch(/^wrote /);
    const html = await readFile(join(folder, "out/index.html"), "utf8");
    expect(html.split(btoa(hostile)).length).toBe(2);
    expect(html).toContain("img-src data:;");
    expect(await readFile(join(folder, "out/picture.svg"), "utf8")).toBe(hostile);
    expect(await readFile(join(folder, "out/scene-1.svg"), "utf8")).toContain('href="picture.svg"');
    const page = await chromium.page(1000);
    await page.emulateMedia({ reducedMotion: "reduce" });
    const complaints = complaintsOf(page);
    const requests: string[] = [];
    page.on("request", (request) => !/^(file|data):/.test(request.url()) && requests.push(request.url()));
    await page.goto(`file://${join(folder, "out/index.html")}#t=10:00:30`);
    /** How bright the canvas is where a house is, 0 … 255. */
    const bright = (x: number): Promise<number> => page.getByRole("img", { name: "Display" }).evaluate((canvas: HTMLCanvasElement, across) => {
      const at = [(across / 400) * canvas.width, canvas.height / 2] as const;
      const [red, green, blue] = canvas.getContext("2d")!.getImageData(...at, 1, 1).data;
      return (red! + green! + blue!) / 3;
    }, x);
    await expect.poll(() => bright(100)).toBeGreaterThan(200);
    expect(await bright(300)).toBeLessThan(120);
    expect(await bright(200)).toBeLessThan(120);
    expect(await page.getByRole("img", { name: "Display" }).evaluate((canvas: HTMLCanvasElement) => canvas.width / canvas.height)).toBeCloseTo(400 / 120, 1);
    await page.getByRole("button", { name: "Next change" }).click();
    await expect.poll(() => bright(300)).toBeGreaterThan(200);
    // the stills stand on it, too
    expect(await page.locator("#scenes .stills use").count()).toBe(2);
    expect(await page.evaluate(() => (window as { ran?: boolean }).ran)).toBeUndefined();

    // by keys, a house goes where it is told to, in pixels of the picture
    await page.getByRole("combobox", { name: "Follow a house" }).selectOption("right");
    await page.getByRole("button", { name: "Move houses" }).click();
    await page.getByRole("img", { name: "Display" }).focus();
    await page.keyboard.press("Shift+ArrowLeft");
    const area = page.getByRole("textbox", { name: "Scenario" });
    const scale = await page.getByRole("img", { name: "Display" }).evaluate((canvas) => 400 / canvas.clientWidth);
    const moved = PLAN.replace("[300, 60]", `[${Math.round(300 - 30 * scale)}, 60]`);
    await expect.poll(() => area.inputValue()).toBe(moved);
    await page.getByText(/^Shed \(right\) is at \[\d+, 60\] now; the text says so too\.$/).waitFor();
    // two taps do the same: the house, and where it is to stand
    const box = (await page.getByRole("img", { name: "Display" }).boundingBox())!;
    await page.mouse.click(box.x + 100 / scale, box.y + 60 / scale);
    await page.mouse.click(box.x + 200 / scale, box.y + 100 / scale);
    await expect.poll(() => area.inputValue()).toBe(moved.replace("[100, 60]", "[200, 100]"));

    // another scenario comes with its own picture, or says that it misses it
    const yaml = { name: "other.yaml", mimeType: "application/yaml", buffer: Buffer.from(PLAN.replace("photo.svg", "white.svg")) };
    const white = { name: "white.svg", mimeType: "image/svg+xml", buffer: Buffer.from(GREY.replace("#888", "#fff").replace('height="120"', 'height="200"')) };
    await page.locator("input[type=file]").setInputFiles([yaml]);
    await page.getByText("Its picture white.svg is not here").waitFor();
    await page.locator("input[type=file]").setInputFiles([white]);
    await expect.poll(() => page.getByRole("img", { name: "Display" }).evaluate((canvas: HTMLCanvasElement) => canvas.width / canvas.height)).toBeCloseTo(2, 1);
    await page.locator("input[type=file]").setInputFiles([{ ...white, buffer: Buffer.from("GIF89a") }]);
    await page.getByText("white.svg: expected a JPEG, PNG or SVG picture; this is a GIF").waitFor();
    expect(requests).toEqual([]);
    // but for what the browser says of this test's own looking at pixels
    expect(complaints.filter((text) => !text.includes("willReadFrequently"))).toEqual([]);
    await page.close();
  });

  test("axe finds nothing to mend in the demo that has one, narrow and dark, while houses are moved", async () => {
    const out = join(home, "salt");
    await cp(join(project, "scenarios"), join(home, "scenarios"), { recursive: true });
    await writeFile(join(home, "scenarios/brief.yaml"), briefly(await readFile(join(project, "scenarios/salt-stairs.yaml"), "utf8")));
    expect((await lampdrift(["report", join(home, "scenarios/brief.yaml"), "-o", out, "--builds", "0"])).stderr).toMatch(/^wrote /);
    const page = await chromium.page(360);
    await page.emulateMedia({ colorScheme: "dark" });
    const complaints = complaintsOf(page);
    await page.goto(`file://${join(out, "index.html")}`);
    await page.getByRole("button", { name: "Move houses" }).click();
    expect(await page.locator("#lampdrift-photo").getAttribute("width")).toBe("960");
    // pictures that do not fit are drawn anew for the width
    await page.waitForFunction(() => [...document.querySelectorAll(".wide")].every((wide) => wide.scrollWidth <= wide.clientWidth));
    await page.evaluate(axeSource);
    const violations = await page.evaluate(async () => {
      const { axe } = window as unknown as { axe: { run(): Promise<{ violations: { id: string; nodes: { target: string[] }[] }[] }> } };
      return (await axe.run()).violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(" ")).join(", ")}`);
    });
    expect(violations).toEqual([]);
    // a finger meets everything that stands by itself
    const small = await page.locator("button, select, nav a, summary, .verdicts a, input[type=range]").evaluateAll((all) =>
      all.map((one) => ({ what: one.getAttribute("aria-label") ?? one.textContent, box: one.getBoundingClientRect() }))
        .filter(({ box }) => box.width > 0 && Math.min(box.width, box.height) < 44).map(({ what, box }) => `${what}: ${box.width} × ${box.height}`));
    expect(small).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
    expect(complaints).toEqual([]);
    await page.close();
  });
});
