/**
 * A scenario as plain numbers in SI units (ohm, farad, ampere, volt, kelvin, second), with every default written
 * out, and its text in the scenario file format. Only what the hand-written loop can follow: no random draws, no solving.
 */

export interface Part {
  /** ohm or farad */
  value: number;
  /** relative change per kelvin, from 25 °C */
  tempco: number;
}

export interface Astable {
  kind: "astable";
  ra: Part;
  rb: Part;
  c: Part;
  /** a linear track; `dial` is the share of it in circuit, 0 to 1 */
  trimmer?: { ohms: number; in: "ra" | "rb"; dial: number };
  /** the capacitor's leakage, ampere */
  leakage: number;
  /** timer periods in one counter step */
  divide: number;
  /** whether a diode empties the capacitor, all but 0.6 V, when the power goes */
  diode: boolean;
  /** relative change of the step time in 1000 powered hours */
  drift: number;
}

export interface Quartz {
  kind: "quartz";
  /** seconds */
  step: number;
  drift: number;
}

export interface Measured {
  kind: "measured";
  /** seconds, at the room's mean temperature */
  step: number;
  /** relative change per kelvin, from the room's mean temperature */
  tempco: number;
  drift: number;
}

export interface Carry {
  kind: "carry";
  /** id of a board earlier in the list */
  from: string;
}

export type Timer = Astable | Quartz | Measured | Carry;

export type Counter =
  | { kind: "ring"; steps: number }
  | { kind: "johnson"; stages: number }
  | { kind: "binary"; bits: number }
  | { kind: "lfsr"; bits: number; taps: number[] }
  /** `steps`: the outputs on at each step; `hold`: by what each step's time is multiplied (all 1 on a carry board) */
  | { kind: "table"; steps: number[][]; hold: number[] };

export interface Board {
  id: string;
  timer: Timer;
  counter: Counter;
  /** per output number, the ids of the houses it lights; an empty list is an output with nothing on it */
  outputs: string[][];
  /** the step at which it wakes at each switch-on; 0 where nothing is said. Not written to a file */
  wakes?: number;
  /** moments, whole microseconds, at which its power is gone and back at once. Not written to a file */
  restarts?: readonly number[];
}

export const dayNames = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"] as const;
export type Day = (typeof dayNames)[number];

export interface Spec {
  title: string;
  /** `from` and `until`: seconds after midnight, whole minutes; `run`: number of opening days */
  opening: { days: Day[]; from: number; until: number; overnight: boolean; run: number };
  /** `mean` in °C, `swing` in K, `warmest` in seconds after midnight, a whole minute */
  room: { mean: number; swing: number; warmest: number };
  /** seconds */
  visitors: { stay: number; returns: number[] };
  volts: number;
  houses: { id: string; zone?: string }[];
  boards: Board[];
}

/** The spec as the text of a scenario file. Numbers are written with all their digits, so that reading them loses nothing. */
export function toYaml(spec: Spec): string {
  const { opening, room, visitors } = spec;
  const lines = [
    "lampdrift: 1",
    `title: ${spec.title}`,
    "opening:",
    `  days: [${opening.days.join(", ")}]`,
    `  from: "${clock(opening.from)}"`,
    `  until: "${clock(opening.until)}"`,
    `  overnight: ${opening.overnight ? "on" : "off"}`,
    `  run: ${opening.run}`,
    `room: { mean: ${room.mean} °C, swing: ${room.swing} K, warmest: "${clock(room.warmest)}" }`,
    `visitors: { stay: ${visitors.stay}, returns: [${visitors.returns.join(", ")}] }`,
    `supply: { volts: ${spec.volts} V }`,
    "houses:",
    ...spec.houses.map((house) => `  ${house.id}: {${house.zone === undefined ? "" : ` zone: ${house.zone} `}}`),
    "boards:",
  ];
  for (const board of spec.boards) {
    lines.push(`  ${board.id}:`, `    timer: ${timerText(board.timer)}`, `    counter: ${counterText(board.counter)}`);
    const wired = board.outputs.flatMap((houses, output) => (houses.length === 0 ? [] : [`      ${output}: [${houses.join(", ")}]`]));
    lines.push(...(wired.length === 0 ? ["    outputs: {}"] : ["    outputs:", ...wired]));
  }
  return lines.join("\n") + "\n";
}

function timerText(timer: Timer): string {
  switch (timer.kind) {
    case "astable": {
      const { ra, rb, c, trimmer } = timer;
      const fields = [
        "kind: astable",
        `ra: { value: ${ra.value}, tempco: ${ra.tempco} }`,
        `rb: { value: ${rb.value}, tempco: ${rb.tempco} }`,
        `c: { value: ${c.value}, tempco: ${c.tempco}, leakage: ${timer.leakage} }`,
      ];
      if (trimmer) fields.push(`trimmer: { value: ${trimmer.ohms}, in: ${trimmer.in}, taper: linear, dial: ${percent(trimmer.dial)} % }`);
      fields.push(`divide: ${timer.divide}`);
      if (timer.diode) fields.push("discharge: diode");
      return `{ ${fields.join(", ")}${driftText(timer.drift)} }`;
    }
    case "quartz":
      return `{ kind: quartz, step: ${timer.step}${driftText(timer.drift)} }`;
    case "measured":
      return `{ kind: measured, step: ${timer.step}, tempco: ${timer.tempco}${driftText(timer.drift)} }`;
    case "carry":
      return `{ kind: carry, from: ${timer.from} }`;
  }
}

function counterText(counter: Counter): string {
  switch (counter.kind) {
    case "ring":
      return `{ kind: ring, steps: ${counter.steps} }`;
    case "johnson":
      return `{ kind: johnson, stages: ${counter.stages} }`;
    case "binary":
      return `{ kind: binary, bits: ${counter.bits} }`;
    case "lfsr":
      return `{ kind: lfsr, bits: ${counter.bits}, taps: [${counter.taps.join(", ")}] }`;
    case "table": {
      const rows = counter.steps.map((row) => `[${row.join(", ")}]`).join(", ");
      const held = counter.hold.some((factor) => factor !== 1);
      return `{ kind: table, steps: [${rows}]${held ? `, hold: [${counter.hold.join(", ")}]` : ""} }`;
    }
  }
}

function driftText(drift: number): string {
  return drift === 0 ? "" : `, drift: ${percent(drift)} %/1000 h`;
}

/** A share in percent, without the last digits that binary fractions add (0.07 * 100 is 7.000000000000001). */
function percent(share: number): number {
  return Number((share * 100).toPrecision(12));
}

function clock(seconds: number): string {
  const minutes = Math.round(seconds / 60);
  return `${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`;
}
