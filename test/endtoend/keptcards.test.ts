import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { readScenario } from "../../sim/scenario/file.js";
import { boardTimes } from "../../sim/timers/boardtimes.js";
import { spokenDuration } from "../../sim/units/text.js";
import { demo, scratch } from "./command.js";
import { demoPages } from "./demopages.js";
import { lampdrift, unwrapped } from "./inprocess.js";

/** The sheets that are filled in by hand, and which cards are stale after a change. */

const folder = await scratch();
const pages = await demoPages();

/** The words of all sheets whose file names begin so. */
function wordsOf(out: string, name: string): string {
  const sheets = readdirSync(out).filter((file) => file.startsWith(name) && file.endsWith(".svg"));
  expect(sheets.length).toBeGreaterThan(0);
  return unwrapped(sheets.map((file) => readFileSync(join(out, file), "utf8").replace(/<[^>]*>/g, " ")).join(" "));
}

describe("the first-power-on sheet", () => {
  test("leads from looking to marking the knob, with the times of the board", async () => {
    const words = wordsOf(await pages.cards("tidewater-lane"), "first-power-quay");
    const order = ["1. Look, without power", "2. Supply, without chips", "3. Lamps, output by output", "4. First steps, by stopwatch", "5. Leave it so"];
    const places = order.map((part) => words.indexOf(part));
    expect(places.every((place, i) => place > (places[i - 1] ?? 0))).toBe(true);
    const { stepSeconds, firstStepSeconds } = boardTimes(await readScenario(demo("tidewater-lane")))[0]!;
    expect(words).toContain(`the first step lasts about ${spokenDuration(firstStepSeconds)}`);
    expect(words).toContain(`Each later step lasts about ${spokenDuration(stepSeconds)}`);
    expect(words).toContain("mark where it stands");
    for (const caution of ["Mains:", "Heat:", "Local codes", "licensed electrician"]) expect(words).toContain(caution);
  });

  /**
   * Pins by the makers' data sheets: timer of the 555 type (Texas Instruments NE555, SLFS022, pin functions: 1 GND, 4 RESET,
   * 8 VCC), 4017 (Texas Instruments CD4017B, SCHS027, terminal assignment: 8 VSS, 16 VDD, 13 clock inhibit, 14 clock, 15 reset,
   * 3 output 0), eight-channel Darlington array (Texas Instruments ULN2803A, SLRS049: 9 GND).
   */
  test("names the pins where the supply's voltage stands, and those where none does", async () => {
    const words = wordsOf(await pages.cards("tidewater-lane"), "first-power-quay");
    expect(words).toMatch(/12 V from the plus to the minus rail \( ?11\.4 V to 12\.6 V ?\)/);
    const [, high = "", low = ""] = /empty sockets\. 12 V at: (.*?) 0 V at: (.*?) Supply off\./.exec(words)!;
    expect(high).toBe("timer: pin 4 (RESET), pin 7 (DISCH) and pin 8 (VCC) counter: pin 16 (VDD)");
    // clock and reset are held at minus by resistors of 100 kΩ, as the wiring card has it
    expect(low).toMatch(/timer: pin 1 \(GND\).*counter: pin 8 \(VSS\), pin 13 \(INHIBIT\), pin 14 \(CLOCK\) and pin 15 \(RESET\) driver 1: .*pin 9 \(GND\)/);
    expect(words).toContain("Output 0, counter pin 3 (Q0): Bakery and Three Gulls Inn");
  });

  test("is there for every kind of board, each output that lights something with its houses", async () => {
    const out = await pages.cards("workshop");
    const scenario = await readScenario(demo("workshop"));
    for (const { id, outputs } of scenario.boards) {
      const words = wordsOf(out, `first-power-${id}`);
      outputs.forEach((loads, output) => {
        if (loads.length > 0) expect(words, id).toMatch(new RegExp(`Output ${output}, [^:]*: ${scenario.houses[loads[0]!.house]!.name}`));
        else expect(words, id).not.toMatch(new RegExp(`Output ${output}, `));
      });
    }
  });
});

test("the log sheet has the planned step times and room for date, change, new step time and name", async () => {
  const words = wordsOf(await pages.cards("tidewater-lane"), "log");
  expect(words).toContain("Planned step times: quay 2 min 50 s, village 2 min 10 s, hill 3 min 40 s.");
  for (const heading of ["date", "board", "what was changed, and why", "new step time", "by"]) expect(words).toContain(heading);
});

describe("cards --since", () => {
  const text = readFileSync(demo("twin-boards"), "utf8");
  const old = join(folder, "old.yaml");
  const now = join(folder, "now.yaml");
  const since = async (before: string, after: string): Promise<string> => {
    writeFileSync(old, before);
    writeFileSync(now, after);
    const { status, stdout } = await lampdrift(["cards", now, "-o", join(folder, "out"), "--since", old]);
    expect(status).toBe(0);
    return unwrapped(stdout);
  };

  test("names the cards that a change makes stale, and those that are still good", async () => {
    const changed = text.replace(/setTo: [^,\n}]+/, "setTo: 1 min 33 s");
    expect(changed).not.toBe(text);
    const told = await since(text, changed);
    expect(told).toMatch(/Stale since \S*old\.yaml, to be printed again: .*knob-north/);
    const [, stale = "", still = ""] = /again: (.*?)\. Still good[^:]*: (.*)\.$/.exec(told)!;
    expect(still).toContain("wiring-north");
    expect(still).toContain("knob-south");
    expect(stale).not.toContain("south");
    expect(told).not.toMatch(/\blog\b/);
  });

  test("of a comment alone none is stale; a board that is gone takes its cards with it", async () => {
    expect(await since(text, `${text}# looked at\n`)).toMatch(/^Since \S*old\.yaml no card has changed/);
    const { boards } = await readScenario(demo("twin-boards"));
    const alone = text.replace(new RegExp(`^  ${boards[1]!.id}:\\n(?:    .*\\n|\\n)*`, "m"), "");
    expect(alone).not.toBe(text);
    const told = await since(text, alone);
    expect(told).toMatch(/No longer needed, to be thrown away: .*wiring-south/);
  });

  test("an old file with something wrong is refused", async () => {
    const { status, stderr } = await lampdrift(["cards", demo("twin-boards"), "-o", join(folder, "none"), "--since", join(folder, "missing.yaml")]);
    expect({ status, told: stderr.includes("there is no such file") }).toEqual({ status: 2, told: true });
  });
});
