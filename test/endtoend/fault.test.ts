import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { simulate } from "../../sim/engine/simulate.js";
import { readScenario } from "../../sim/scenario/file.js";
import { demo, demos, scratch, type Outcome } from "./command.js";
import { lampdrift, unwrapped } from "./inprocess.js";

const folder = await scratch();

interface Answer {
  readonly candidates: readonly {
    readonly faults: readonly { readonly kind: string; readonly board: string; readonly where: string; readonly text: string }[];
    readonly fits: readonly string[];
    readonly against: readonly string[];
  }[];
  readonly next: { readonly house: string; readonly seconds: number; readonly look: string } | null;
}

const fault = async (...args: string[]): Promise<Answer> => {
  const { status, stdout, stderr } = await lampdrift(["fault", ...args, "--json"]);
  expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
  return JSON.parse(stdout) as Answer;
};

/** The drill with these lines on its standard input, which then ends. */
const drill = (args: readonly string[], input: string): Promise<Outcome> => lampdrift(["fault", ...args], { input });

describe("fault", () => {
  test("a house with one wire is dark: the wire comes first, and what looks the same beside it", async () => {
    const { candidates, next } = await fault(demo("tidewater-lane"), "--dark", "post");
    const [first] = candidates;
    expect(first!.faults[0]).toMatchObject({ kind: "wire-open", board: "village", where: "output 2 to post" });
    expect(first!.faults.map(({ kind, where }) => [kind, where])).toEqual([["wire-open", "output 2 to post"], ["wire-open", "plus to post"], ["lamp-out", "output 2, post"]]);
    expect(first!.fits).toHaveLength(1);
    expect(first!.against).toEqual([]);
    // its neighbour on the same channel was not reported dark
    const channel = candidates.find(({ faults }) => faults.some(({ kind, where }) => kind === "channel-open" && where.startsWith("output 2 ")))!;
    expect(channel.against.join()).toContain("Weaver would stay dark too");
    expect(next).not.toBeNull();
  });

  test("the one lamp of a house that two outputs switch together is out: dark under both", async () => {
    const file = join(folder, "one-lamp.yaml");
    const outputs = "outputs: { 0: a, 1: b, 2: a, 3: c } } }";
    const boards = `boards: { q: { timer: { kind: quartz, step: 60 s }, counter: { kind: ring, steps: 4 }, ${outputs}`;
    await writeFile(file, `lampdrift: 1\ntitle: One lamp\nopening: { from: "10:00", until: "12:00" }\nhouses: { a: , b: , c: }\n${boards}\n`);
    const { candidates } = await fault(file, "--dark", "a", "--changing", "b,c");
    const lamps = candidates.filter(({ faults }) => faults.some(({ kind }) => kind === "lamp-out"));
    expect(lamps[0]!.against).toEqual([]);
    expect(lamps.flatMap(({ faults }) => faults.filter(({ kind, where }) => kind === "lamp-out" && where.endsWith(", a")))).toHaveLength(1);
  });

  test("both houses of a channel are dark: the channel comes before the board", async () => {
    const { candidates } = await fault(demo("tidewater-lane"), "--dark", "post,weaver");
    expect(candidates[0]!.faults).toMatchObject([
      { kind: "wire-open", board: "village", where: "output 2 to the input of package 1, channel 3" },
      { kind: "channel-open", board: "village", where: "output 2 (package 1, channel 3)" },
    ]);
  });

  test("a frozen board with one house lit: no clock, or held in reset; those it clocks stand still with it", async () => {
    const { candidates, next } = await fault(demo("workshop"), "--frozen", "ring,tower", "--lit", "ring1");
    expect(candidates[0]!.faults.map(({ kind, where, board }) => [kind, where, board])).toEqual([
      ["wire-open", "clock wire", "ring"],
      ["no-clock", "clock", "ring"],
      ["held-in-reset", "reset", "ring"],
    ]);
    expect(candidates[0]!.against).toEqual([]);
    expect(next).toBeNull();
  });

  test("a house lit all the time: a channel stuck on", async () => {
    const { candidates } = await fault(demo("tidewater-lane"), "--lit", "chapel");
    expect(candidates[0]!.faults).toMatchObject([{ kind: "channel-on", board: "village" }]);
  });

  test("everything is dark: the supply of the display, which is no board's", async () => {
    const { candidates, next } = await fault(demo("twin-boards"), "--dark", "north1,north2,north3,north4,south1,south2,south3,south4");
    expect(candidates[0]!.faults).toMatchObject([{ kind: "no-supply", board: null, where: "supply of the display" }]);
    expect(candidates[0]!.against).toEqual([]);
    expect(candidates[1]!.against).not.toEqual([]);
    expect(next).toBeNull();
  });

  test("a house of several outputs that never lights: its plus wire, or its one lamp", async () => {
    const { candidates } = await fault(demo("tidewater-lane"), "--dark", "bakery");
    expect(candidates[0]!.faults).toMatchObject([
      { kind: "wire-open", board: "quay", where: "plus to bakery" },
      { kind: "lamp-out", board: "quay" },
    ]);
  });

  test("a house that is dark when its neighbour on the same output lights: its wire, wherever the board woke", async () => {
    // school is on outputs 0 and 4, grocer on output 0 alone, doctor on output 4 alone
    const { candidates } = await fault(demo("tidewater-lane"), "--changing", "school while grocer", "--lit", "school while doctor");
    expect(candidates[0]!.faults[0]).toMatchObject({ kind: "wire-open", board: "village", where: "output 0 to school" });
    expect(candidates.filter(({ against }) => against.length === 0)).toHaveLength(1);
  });

  test("a board that is slow or quick: the knob", async () => {
    for (const [option, way] of [["--slow", "long"], ["--fast", "short"]] as const) {
      const { candidates } = await fault(demo("tidewater-lane"), option, "hill", "--watched", "80 min");
      expect(candidates[0]!.faults).toMatchObject([{ kind: "knob-off", board: "hill", where: `knob, towards ${way} steps` }]);
      expect(candidates[0]!.against).toEqual([]);
    }
  });

  test("a board without a knob that is slow or quick: the capacitor", async () => {
    const file = join(folder, "no-knob.yaml");
    await writeFile(file, "lampdrift: 1\ntitle: No knob\nhouses: { inn: , barn: , mill: }\nboards:\n  quay:\n" +
      "    timer: { kind: astable, ra: 100k, rb: 470k, c: 47 uF ±10 %, discharge: diode }\n" +
      "    counter: { kind: ring, steps: 3 }\n    outputs: { 0: inn, 1: barn, 2: mill }\n");
    for (const [option, kind] of [["--slow", "cap-leaky"], ["--fast", "cap-aged"]] as const) {
      const { candidates } = await fault(file, option, "quay", "--watched", "20 min");
      expect(candidates[0]!.faults[0]).toMatchObject({ kind, board: "quay", where: "timing capacitor" });
      expect(candidates[0]!.against).toEqual([]);
    }
  });

  test("a house with light from elsewhere too says that this can hide a fault; one of several lamps is no dark house", async () => {
    const { candidates } = await fault(demo("tidewater-lane"), "--dark", "post");
    const texts = candidates.flatMap(({ faults }) => faults.map(({ text }) => text));
    expect(texts.find((text) => text.startsWith("The wire from output 1 of board quay to Ship chandler"))).toContain("Ship chandler is lit by output 6 of the same board too");
    expect(texts.find((text) => text.startsWith("One of the 2 lamps of Smithy"))).toContain("cannot be seen as dark");
  });

  test("the looks it asks for lead to one group through the command line alone", async () => {
    // planted in the file: the wire from output 5 to north2 is off
    const sound = await readFile(demo("twin-boards"), "utf8");
    const broken = sound.replace("5: [north2, north3]", "5: [north3]");
    expect(broken).not.toBe(sound);
    const file = join(folder, "broken.yaml");
    await writeFile(file, broken);
    const record = simulate(await readScenario(file));
    const { from, until, end } = record.openings[0]!;
    /** Stretches in which a house of the broken display is lit, in seconds after switch-on. */
    const stretches = (id: string): { on: number; off: number }[] => {
      const house = record.scenario.houses.findIndex((one) => one.id === id);
      const lit: { on: number; off: number }[] = [];
      for (let i = 0; i < end; i++) {
        const on = (record.spellStart[i]! - from) / 1e6;
        const off = ((i + 1 < end ? record.spellStart[i + 1]! : until) - from) / 1e6;
        if (!record.scenes.isLit(record.spellScene[i]!, house)) continue;
        if (lit.at(-1)?.off === on) lit.at(-1)!.off = off;
        else lit.push({ on, off });
      }
      return lit;
    };
    const options = ["--changing", "north2"];
    let answer = await fault(demo("twin-boards"), ...options);
    for (let looks = 0; answer.next !== null; looks++) {
      expect(looks).toBeLessThan(20);
      const { house, seconds, look } = answer.next;
      const lit = stretches(house);
      if (look === "times") options.push("--times", `${house}@${seconds} s=${lit.filter(({ on }) => on < seconds).length}`);
      else if (look === "moment") options.push(lit.some(({ on, off }) => on <= seconds && seconds < off) ? "--lit-at" : "--dark-at", `${house}@${seconds} s`);
      else throw new Error(`no board of this display wakes anywhere, and yet it asks for ${look}`);
      answer = await fault(demo("twin-boards"), ...options);
    }
    expect(answer.candidates[0]!.faults.map(({ kind, where }) => [kind, where])).toEqual([["wire-open", "output 5 to north2"]]);
    expect(answer.candidates[0]!.against).toEqual([]);
    expect(answer.candidates[1]!.against).not.toEqual([]);
  });

  test("as text it names the next look with the options to report it by", async () => {
    const { status, stdout } = await lampdrift(["fault", demo("tidewater-lane"), "--dark", "post", "--watched", "40 min"]);
    expect(status).toBe(0);
    expect(stdout).toContain("1. The wire from output 2 of board village to Post office is off.\n   Or: The plus wire");
    expect(unwrapped(stdout)).toMatch(/Next: .*--[a-z-]+ "[a-z0-9]+@[^"]+"/);
    expect(stdout).not.toContain("wire-open");
    expect(stdout).toContain("may be chance");
  });

  test.each(demos)("%s: a board that stands still has an answer", async (name) => {
    const board = { "tidewater-lane": "quay", "twin-boards": "north", workshop: "ring" }[name];
    const { candidates } = await fault(demo(name), "--frozen", board);
    expect(candidates[0]!.faults[0]).toMatchObject({ kind: "wire-open", board, where: "clock wire" });
    // the workshop's clock tower is clocked by this board, and stands still with it
    expect(candidates[0]!.against).toEqual(name === "workshop" ? ["Clock tower would stay lit too, which was not reported"] : []);
  });

  test.each([
    [["--dark", "pots"], 'did you mean "post"?'],
    [["--frozen", "key"], "boards: quay, village, hill"],
    [["--dark", "post", "--lit", "post"], "cannot both be true"],
    [["--times", "post=2", "--dark", "post"], "cannot both be true"],
    [[], "nothing to explain; say what was seen"],
    [["--dark", ","], "nothing to explain"],
    [["--dark", "post", "--watched", "soon"], "expected a duration"],
    [["--dark", "post", "--watched", "9 h"], "at most 7 h (one opening)"],
    [["--dark", "post@0 s"], "at most 7 h (one opening)"],
    [["--dark-at", "post"], "a moment after switch-on"],
    [["--times", "post"], "how many times"],
    [["--times", "post=-1"], "how many times"],
    [["--dark", "\u001b[31mred"], "there is no house"],
    [["--dark", "post while post"], "expected two different houses"],
    [["--dark", "post while nowhere"], 'there is no house "nowhere"'],
    [["--dark-at", "post while mill"], "there is no house"],
    [["--frozen", "quay", "--fast", "quay"], "cannot both be true"],
    [["--frozen", "quay", "--lit-at", "inn@10 min", "--dark-at", "inn@20 min"], "cannot all be true"],
    [["--drill", "--dark", "post"], "--drill goes without --dark"],
  ])("%j is refused in a line", async (args, told) => {
    const { status, stdout, stderr } = await lampdrift(["fault", demo("tidewater-lane"), ...args]);
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toContain(told);
    expect(stderr).not.toMatch(/\n\s+at .*:\d+:\d+|\u001b/);
  });
});

describe("drill", () => {
  const file = demo("twin-boards");

  test("answers what a house and a board do, takes guesses, and ends when the fault is found", async () => {
    const given = await drill([file, "--drill", "first"], "watch north1 30 min\nboard south 30 min\ngive up\nlist\n");
    expect(given).toMatchObject({ status: 0, stderr: "" });
    expect(given.stdout).toMatch(/^north1: (lit|dark)/m);
    expect(given.stdout).toMatch(/^board south: /m);
    const number = /The fault was number (\d+): /.exec(unwrapped(given.stdout))![1]!;
    const wrong = number === "1" ? "2" : "1";
    const found = await drill([file, "--drill", "first"], `guess ${wrong}\nwatch north1 30 min\nguess ${number}\nwatch north1 30 min\n`);
    expect(found).toMatchObject({ status: 0, stderr: "" });
    expect(unwrapped(found.stdout)).toContain(`No, it is not number ${wrong}.`);
    expect(unwrapped(found.stdout)).toMatch(/Right, after 1 look: (?!.*[Ee]xpected|.*watch).*$/);
  });

  test("the same seed hides the same fault, another seed sooner or later another", async () => {
    const told = async (seed: string): Promise<string> => /The fault was .*$/.exec(unwrapped((await drill([file, "--drill", seed], "")).stdout))![0];
    const all = await Promise.all(["a", "a", "b", "c"].map(told));
    expect(all[0]).toBe(all[1]);
    expect(all[0]).toMatch(/^The fault was number \d+: /);
    expect(new Set(all).size).toBeGreaterThan(1);
  });

  test("lines that make no sense get a line back", async () => {
    const lines = ["watch nowhere 3 min", "watch north1 1 soon", "watch north1 -1", "watch north1 1e9 min", "board quay 3 min", "guess 0", "guess x", "guess", "hello \u001b[2J", "", "watch"];
    const { status, stdout, stderr } = await drill([file, "--drill"], lines.join("\n"));
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    expect(stdout).toContain('there is no house "nowhere"');
    expect(stdout).toContain('there is no board "quay"');
    expect(stdout.match(/expected a time after switch-on/g)).toHaveLength(3);
    expect(stdout.match(/expected a number from 1 to/g)).toHaveLength(2);
    expect(stdout.match(/not understood/g)).toHaveLength(3);
    expect(stdout).not.toContain("\u001b");
  });
});
