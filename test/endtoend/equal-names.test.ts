import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { litText } from "../../reports/live/momenttext.js";
import { parseScenario, simulate } from "../../sim/index.js";
import { lampdrift } from "./inprocess.js";

const TEXT = `lampdrift: 1
title: Two of one name
opening: { from: "10:00", until: "12:00", run: 2 }
houses:
  north: { name: Boathouse, zone: quay, at: [0, 0] }
  south: { name: Boathouse, zone: quay, at: [60, 40] }
  mill: { name: Mill, zone: quay, at: [120, 0] }
boards:
  quay:
    timer: { kind: quartz, step: 61 s, tolerance: 1 % }
    counter: { kind: ring, steps: 3 }
    outputs: { 0: north, 1: [south, mill] }
promises: [{ litHouses: { from: 2 } }, { sceneLasts: { from: 2 min } }]
`;

let directory: string;
beforeAll(async () => {
  directory = await mkdtemp(join(tmpdir(), "lampdrift-names-"));
  await writeFile(join(directory, "names.yaml"), TEXT);
  const file = join(directory, "names.yaml");
  expect((await lampdrift(["report", file, "--builds", "0", "-o", join(directory, "report")])).status).toBe(1);
  expect((await lampdrift(["cards", file, "-o", join(directory, "cards")])).status).toBe(0);
});
afterAll(() => rm(directory, { recursive: true }));

/** The texts of the drawings in a file, and of the sentences around them. */
async function textsOf(...path: string[]): Promise<string[]> {
  const text = await readFile(join(directory, ...path), "utf8");
  const parts = text.replace(/<(style|script|title)\b[^]*?<\/\1>/g, "").matchAll(/<(text|desc|p|li|td|figcaption)\b[^>]*>([^]*?)<\/\1>/g);
  return Array.from(parts, ([, , inner]) => inner!.replace(/<[^>]*>/g, ""));
}

/** The name by itself, without an id that tells which of the two is meant. */
const BARE = /Boathouse(?! \((north|south)\))/;

const PICTURES = ["display", "timeline", "lit-houses"];

test.each(PICTURES)("the report's picture %s tells two houses of one name apart", async (picture) => {
  const file = (await readdir(join(directory, "report"))).find((name) => name.startsWith(picture))!;
  const texts = await textsOf("report", file);
  expect(texts).toContain("Boathouse (north)");
  expect(texts).toContain("Boathouse (south)");
  expect(texts).toContain("Mill");
});

test("nothing that a person reads in report or cards is the bare name", async () => {
  const cards = (await readdir(join(directory, "cards"))).map((name) => ["cards", name] as const);
  let told = 0;
  for (const path of [["report", "index.html"] as const, ...cards]) {
    const texts = await textsOf(...path);
    // a card breaks long lines, so that an id may begin the next one
    expect(BARE.exec(texts.join(" ")), path.join("/")).toBeNull();
    told += texts.filter((text) => text.includes("Boathouse (north)")).length;
  }
  expect(told).toBeGreaterThan(5);
});

/** What a terminal shows of the display; the promises are broken. */
const COMMANDS: readonly (readonly [args: string, told: RegExp])[] = [
  ["check", /lit: Boathouse \(north\)/],
  ["run", /lit: Boathouse \(north\)/],
  ["hunt --tries 5", /Promise broken/],
  ["spread --builds 5", /0 of 5/],
  ["bill", /lamp/],
  ["compare", /broken/],
  ["fault --dark south --lit-at", /Boathouse \(south\)/],
  ["fault --drill", /Boathouse \((north|south)\)/],
];

test.each(COMMANDS)("%s", async (args, told) => {
  const file = join(directory, "names.yaml");
  const [command = "", ...options] = args.split(" ");
  const more = { compare: [file], "fault --dark south --lit-at": ["north@1s"] }[args] ?? [];
  const { status, stdout, stderr } = await lampdrift([command, file, ...options, ...more], { input: "give up\n" });
  expect([0, 1], stderr).toContain(status);
  const text = stdout.replace(/\s+/g, " ");
  expect(text).toMatch(told);
  expect(BARE.exec(text)).toBeNull();
});

describe("a house is meant by", () => {
  const dark = async (name: string): Promise<string> => {
    const { stdout, stderr } = await lampdrift(["fault", join(directory, "names.yaml"), "--dark", name]);
    return (stdout + stderr).replace(/\s+/g, " ");
  };

  test.each(["south", "Boathouse (south)", "boathouse (South)"])("%s", async (name) => {
    expect(await dark(name)).toContain("Seen: Boathouse (south) stays dark");
  });

  test("no name that two have", async () => {
    expect(await dark("Boathouse")).toContain('--dark: 2 houses are called "Boathouse"; say by its id which one: north or south');
    const { stdout } = await lampdrift(["fault", join(directory, "names.yaml"), "--drill"], { input: "watch Boathouse 2 min\nwatch Boathouse (north) 2 min\n" });
    expect(stdout.replace(/\s+/g, " ")).toMatch(/2 houses are called "Boathouse"; say by its id which one: north or south.*Boathouse \(north\): (lit|dark)/);
  });
});

test("the wiring table names the house of each wire", async () => {
  const sheets = (await readdir(join(directory, "cards"))).filter((name) => name.startsWith("wiring-quay"));
  const texts = (await Promise.all(sheets.map((name) => textsOf("cards", name)))).flat();
  expect(texts.some((text) => /Boathouse \(south\)(, | and )Mill/.test(text))).toBe(true);
});

test("the moving picture is described with them told apart", () => {
  const record = simulate(parseScenario(TEXT, "names.yaml"), { trace: true });
  expect(litText(record, { opening: 0, time: record.openings[0]!.from })).toBe("Lit: Boathouse (north)");
});
