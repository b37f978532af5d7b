/** Input of every sort for the command, from a seed: mostly sound in structure, so that most of it is really computed. */
import { Draws } from "./draws.js";

export interface Case {
  /** What is looked at besides how the command ends: whether run, report and page agree, a counterexample's replay, edits in the page. */
  readonly then?: "agree" | "agree with report" | "replay" | "edit";
  /** Whether the scenario is one of those that people mean to be simulated. */
  readonly structured: boolean;
  readonly args: readonly string[];
  /** Files that the arguments name. */
  readonly files: Readonly<Record<string, string>>;
}

/** What people and their editors put where it does not belong. */
const HOSTILE = [
  "", "~", "null", "-1", "0", "1e999", "NaN", ".inf", "99999999999999999999", "0x10", "true", "[]", "{}", "[[[[]]]]", '"\\u0000"',
  "<script>alert(1)</script>", "=cmd|' /C calc'!A0", "../../etc/passwd", "__proto__", "constructor", "*x", "&x [*x]", "!!js/function a", "\t",
  "‮evil", "🏠", "ｆｕｌｌ", "3 min 20", "1 h 70 min", "±", "%", "470 uF ±200 %", "a: b: c", "- - -", "{ value: }", "\u2028",
] as const;

const TIMERS = [
  (d: Draws) => `{ kind: quartz, step: ${1 + d.below(400)} s }`,
  (d: Draws) => `{ kind: measured, step: ${20 + d.below(300)} s, reading: ${d.below(5)} s${d.chance(0.3) ? ", jitter: 0.5 %" : ""} }`,
  (d: Draws) => `{ kind: astable, ra: ${10 + d.below(90)}k, rb: ${100 + d.below(500)}k, c: ${1 + d.below(300)} uF ±20 %, discharge: ${d.of(["diode", "none"])} }`,
  (d: Draws) => {
    // within what the knob reaches
    const [setTo, divide] = d.of([[45 + d.below(50), ""], [160 + d.below(200), ", divide: 4"]] as const);
    return `{ kind: astable, chip: ${d.of(["cmos", "bipolar"])}, ra: 47k 1%, rb: 220k 1%, c: { value: 100 uF, type: low-leakage }, ` +
      `trimmer: { value: 500k, in: rb }, setTo: ${setTo} s, reading: 1 s${divide} }`;
  },
] as const;

const COUNTERS = [
  (d: Draws) => `{ kind: ring, steps: ${2 + d.below(9)} }`,
  (d: Draws) => `{ kind: johnson, stages: ${2 + d.below(5)}, powerUp: ${d.of(["reset", "anywhere"])} }`,
  (d: Draws) => `{ kind: binary, bits: ${2 + d.below(3)} }`,
  (d: Draws) => `{ kind: lfsr, bits: ${3 + d.below(3)} }`,
  () => "{ kind: shuffle, steps: [[0], [1], [0, 1]] }",
  () => "{ kind: table, steps: [[0], [1, 2], []], hold: [1, 2, 3] }",
] as const;

const PROMISES = [
  "step: { from: 10 s, to: 5 min }", "litHouses: { from: 0, to: 9 }", "darkSpell: { atMost: 2 h }", "anyHour: { atLeast: 1 }", "effectiveScenes: { atLeast: 2 }",
  "repeatOnReturn: { after: 30 min, atMost: 50 % }", "repeatWithinStay: { stay: 10 min, atMost: 90 % }", "zoneLit: { zone: z0, atLeast: 1 % }", "ratings: within",
] as const;

function scenario(d: Draws): string {
  const houses = Array.from({ length: 2 + d.below(6) }, (_, h) => `h${h}`);
  const boards = Array.from({ length: 1 + d.below(4) }, (_, b) => {
    // two outputs are those that every counter above has, but for the smallest
    const outputs = [0, 1].map((o) => `${o}: [${d.some(houses).join(", ")}]`).join(", ");
    const carried = b > 0 && d.chance(0.15);
    const timer = carried ? "{ kind: carry, from: b0 }" : d.of(TIMERS)(d);
    // what a carry clocks has no step to hold
    const counter = d.of(carried ? COUNTERS.slice(0, -1) : COUNTERS)(d);
    return `  b${b}:\n    timer: ${timer}\n    counter: ${counter}\n    outputs: { ${outputs} }`;
  });
  return [
    "lampdrift: 1",
    "title: Drawn by lot",
    `opening: { from: "10:00", until: "${d.of(["10:30", "12:00", "24:00"])}", overnight: ${d.of(["on", "off"])}, run: ${1 + d.below(4)} }`,
    ...(d.chance(0.3) ? [`room: { mean: ${d.below(30)} °C, swing: ${d.below(6)} K }`] : []),
    ...(d.chance(0.3) ? [`supply: { volts: ${d.of([5, 9, 12, 15])} V, limit: 2 A, glitches: ${d.of([0, 10])} }`] : []),
    ...(d.chance(0.3) ? ["lamps: { window: { amps: 20 mA }, led: { forward: 3.1 V, amps: 15 mA } }"] : []),
    `houses: { ${houses.map((id, h) => `${id}: { zone: z${h % 2}${d.chance(0.5) ? `, at: [${d.below(400)}, ${d.below(150)}]` : ""} }`).join(", ")} }`,
    "boards:",
    ...boards,
    ...(d.chance(0.6) ? ["promises:", ...d.some(PROMISES).map((one) => `  - ${one}`), "  - ratings: within"] : []),
    "",
  ].join("\n");
}

/** One slip, as fingers and editors make them. */
function slip(text: string, d: Draws): string {
  const lines = text.split("\n");
  const at = d.below(lines.length);
  const line = lines[at]!;
  switch (d.below(7)) {
    case 0:
      return lines.filter((_, i) => i !== at).join("\n");
    case 1:
      return [...lines.slice(0, at), line, ...lines.slice(at)].join("\n");
    case 2:
      return lines.map((one, i) => (i === at ? d.of([" ", "\t", "   "]) + one : one)).join("\n");
    case 3: {
      const place = d.below(text.length);
      return text.slice(0, place) + text.slice(place + 1 + d.below(4));
    }
    case 4: {
      const values = [...text.matchAll(/(?<=: )[^,{}[\]\n]+/g)];
      if (values.length === 0) return text;
      const value = d.of(values);
      return text.slice(0, value.index) + d.of(HOSTILE) + text.slice(value.index + value[0].length);
    }
    case 5: {
      const keys = [...text.matchAll(/[A-Za-z]+(?=:)/g)];
      if (keys.length === 0) return text;
      const key = d.of(keys);
      return text.slice(0, key.index) + d.of(HOSTILE) + text.slice(key.index + key[0].length);
    }
    default: {
      const place = d.below(text.length);
      return text.slice(0, place) + d.of(HOSTILE) + text.slice(place);
    }
  }
}

function spoilt(text: string, d: Draws): string {
  let spoiled = text;
  // most stay sound
  for (let slips = d.chance(0.7) ? 0 : 1 + d.below(3); slips > 0; slips--) spoiled = slip(spoiled, d);
  return spoiled;
}

function log(d: Draws): string {
  const rows: string[] = [];
  let time = 0;
  for (let i = 0; i < 3 + d.below(12); i++) rows.push(`quay,${((time += 50 + d.below(4)) + d.below(100) / 100).toFixed(2)}`);
  return spoilt(["board,time", ...rows, ""].join("\n"), d);
}

function stock(d: Draws): string {
  return spoilt("100k 1 % metal\n47k 5 % carbon\n330k metal\n470 uF ±20 % electrolytic\n100u low-leakage\n1 uF film\ntrimmer 500k ±20 %\ntrimmer 100k\n", d);
}

function build(d: Draws): string {
  return spoilt(JSON.stringify({ promises: [{ promise: "step", broken: true, build: { "b0.c": 0.9, "b0.ra": -1 } }] }, null, 1), d);
}

const FLAGS = ["--json", "--help", "--builds", "--tries", "-o", "--days", "--as", "vcd", "csv", "1..2", "0", "-1", "NaN", "--", "", "a.yaml", "--weigh", "wire=2", "x=y"] as const;

/** What the page is asked one after the other: texts that come to stand in it, boards whose knobs are turned, and so on. */
export type PageEdit =
  | { readonly kind: "edit"; readonly text: string }
  | { readonly kind: "turn"; readonly board: string; readonly seconds: number }
  | { readonly kind: "turnBack"; readonly board: string }
  | { readonly kind: "backToPlan" | "saved" }
  | { readonly kind: "look"; readonly opening: number; readonly time: number };

/** Edits of a page that begins with this text, drawn from a seed. */
export function editsOf(seed: string, text: string): PageEdit[] {
  const d = new Draws(`${seed} edits`);
  const edits: PageEdit[] = [];
  for (let now = text, left = 2 + d.below(5); left > 0; left--) {
    const board = d.of(["b0", "b1", "b2", "nobody", "__proto__"]);
    const edit = d.of<PageEdit>([
      { kind: "edit", text: (now = slip(now, d)) },
      { kind: "edit", text: (now = text) },
      { kind: "turn", board, seconds: d.of([0.001, 1, 40, 61.5, 200, 4000, 1e9, 0, -5]) },
      { kind: "turn", board: "b0", seconds: 20 + d.below(200) },
      { kind: "turnBack", board },
      { kind: "backToPlan" },
      { kind: "saved" },
      { kind: "look", opening: d.below(3), time: d.below(86_400) * 1e6 },
    ]);
    edits.push(edit);
  }
  return edits;
}

/** Case number n of a seed. */
export function caseOf(seed: string, n: number): Case {
  const d = new Draws(`${seed} ${n}`);
  const file = { "a.yaml": spoilt(scenario(d), d) };
  const [other, given] = [{ structured: false }, { structured: true, files: file }];
  switch (d.below(24)) {
    case 0:
    case 1:
      return { ...other, args: ["fit", "log.csv", "--json"], files: { "log.csv": log(d) } };
    case 2:
    case 3:
      return {
        ...other,
        args: ["parts", "--range", d.of(["30 s..2 min", "1..5 s", "5 min", "x..y"]), "--stock", "stock.txt", "--json"],
        files: { "stock.txt": stock(d) },
      };
    case 4:
    case 5:
      return { ...other, args: ["run", "a.yaml", "--build", "build.json", "--json"], files: { ...file, "build.json": build(d) } };
    case 6:
    case 7:
      return { ...other, args: [d.of(["check", "run", "export", "bill", "spread", "fault", "nothing"]), ...d.some(FLAGS)], files: file };
    case 8:
      return { ...given, args: ["export", "a.yaml", "--as", d.of(["vcd", "csv", "json"]), "--days", "1"] };
    case 9:
      return { ...given, args: ["bill", "a.yaml", "--json"] };
    case 10:
      return { ...given, args: ["spread", "a.yaml", "--builds", "3", "--workers", "1", "--json"] };
    case 11:
      return { ...given, args: ["fault", "a.yaml", "--dark", d.of(["h0", "h1", "h9", "h0,h1"]), "--json"] };
    case 12:
      return { ...given, args: ["hunt", "a.yaml", "--tries", "20", "--json"], then: "replay" };
    case 13:
    case 14:
      return { ...given, args: ["run", "a.yaml", "--json"], then: "edit" };
    case 15:
      return { ...given, args: ["run", "a.yaml", "--json"], then: d.chance(0.2) ? "agree with report" : "agree" };
    case 16:
      return { ...given, args: ["run", "a.yaml", "--json"], then: "agree" };
    default:
      return { ...given, args: [d.of(["check", "run"]), "a.yaml", "--json"] };
  }
}
