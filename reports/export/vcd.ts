import type { OpenHours } from "../../sim/engine/calendar.js";
import { wire } from "../../sim/engine/wiring.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { VERSION } from "../output/version.js";
import type { Exporter } from "./exporter.js";
import { identifierCode, safeNames } from "./names.js";
import type { Micros } from "../../sim/units/time.js";

/** Identifier codes of the signals of one board. */
interface BoardCodes {
  readonly clock: string;
  readonly step: string;
  readonly outputs: readonly string[];
}

/**
 * A value change dump as IEEE 1364-2005, clause 18, has it: microseconds since Monday 00:00; a scope for each board with
 * its clock pulses, its step and its outputs; a scope with the houses; and whether the display is open. Without power a
 * board's step is unknown and its outputs are 0. Houses follow the outputs, in closed hours too.
 */
export class VcdExporter implements Exporter {
  private text = "";
  private readonly boards: readonly BoardCodes[];
  private readonly houses: readonly string[];
  private readonly openCode: string;
  /** Outputs on, and houses lit, at each step of each board. */
  private readonly outputsAt: readonly (readonly (readonly number[])[])[];
  private readonly housesAt: readonly (readonly (readonly number[])[])[];
  private readonly step: Int32Array;
  /** Boards that moved in the microsecond at hand, and the step each came from. */
  private readonly moved = new Map<number, number>();
  private readonly pulsed = new Set<number>();
  /** By how many boards each house is lit, and whether the file says it is. */
  private readonly litBy: Int32Array;
  private readonly written: Uint8Array;
  private now = -1;
  private opened: "0" | "1" = "0";
  private openWritten: "0" | "1" = "0";
  /** Nothing is written before the first opening that was asked for, nor after the last. */
  private telling = false;
  private stamped = false;
  private closing = false;

  constructor(
    scenario: Scenario,
    private readonly wanted: (opening: number) => boolean,
  ) {
    const wiring = wire(scenario);
    this.outputsAt = wiring.map(({ sequence }) => Array.from({ length: sequence.steps }, (_, s) => sequence.on(s)));
    this.housesAt = wiring.map(({ sequence, patternAt, patterns }) =>
      Array.from({ length: sequence.steps }, (_, s) => patterns[patternAt[s]!]!),
    );
    this.step = new Int32Array(scenario.boards.length).fill(-1);
    this.litBy = new Int32Array(scenario.houses.length);
    this.written = new Uint8Array(scenario.houses.length);
    let signals = 0;
    const code = (): string => identifierCode(signals++);
    const out = [
      `$version lampdrift ${VERSION} $end`,
      `$comment ${comment(scenario.title)}; time 0 is Monday 00:00 $end`,
      "$timescale 1 us $end",
      "$scope module display $end",
      `$var wire 1 ${(this.openCode = code())} open $end`,
    ];
    const scopes = safeNames();
    for (const taken of ["houses", "open"]) scopes(taken);
    this.boards = scenario.boards.map(({ id }, b) => {
      const { steps, outputs } = wiring[b]!.sequence;
      const codes = { clock: code(), step: code(), outputs: Array.from({ length: outputs }, code) };
      const bits = bitsFor(steps);
      out.push(
        `$scope module ${scopes(id)} $end`,
        `$var event 1 ${codes.clock} clock $end`,
        `$var reg ${bits} ${codes.step} step${bits > 1 ? ` [${bits - 1}:0]` : ""} $end`,
        ...codes.outputs.map((output, k) => `$var wire 1 ${output} output${k} $end`),
        "$upscope $end",
      );
      return codes;
    });
    const names = safeNames();
    out.push("$scope module houses $end");
    this.houses = scenario.houses.map(({ id, name }) => {
      const house = code();
      const safe = names(id);
      out.push(`$var wire 1 ${house} ${safe} $end`);
      if (name !== safe) out.push(`$comment ${safe}: ${comment(name)} $end`);
      return house;
    });
    out.push("$upscope $end", "$upscope $end", "$enddefinitions $end");
    this.text = `${out.join("\n")}\n`;
  }

  opens({ from }: OpenHours, opening: number): void {
    this.goTo(from);
    this.closing = false;
    if (!this.telling && this.wanted(opening)) this.dumpAll();
    this.opened = "1";
  }

  closes({ until }: OpenHours, opening: number): void {
    this.goTo(until);
    this.opened = "0";
    // what happens in the microsecond of closing still belongs to it
    this.closing = !this.wanted(opening + 1);
  }

  spell(): void {
    // houses follow from the moves
  }

  moves(time: Micros, board: number, step: number): void {
    this.goTo(time);
    const from = this.step[board]!;
    if (!this.moved.has(board)) this.moved.set(board, from);
    if (from >= 0 && step >= 0) this.pulsed.add(board);
    if (from >= 0) for (const house of this.housesAt[board]![from]!) this.litBy[house]!--;
    if (step >= 0) for (const house of this.housesAt[board]![step]!) this.litBy[house]!++;
    this.step[board] = step;
  }

  ends(): void {
    this.flush();
    this.telling = false;
  }

  take(): string {
    const { text } = this;
    this.text = "";
    return text;
  }

  /** All changes of one microsecond are written together, as they are after the last of them. */
  private goTo(time: Micros): void {
    if (time === this.now) return;
    this.flush();
    if (this.closing) this.telling = false;
    this.now = time;
    this.stamped = false;
  }

  private flush(): void {
    if (this.telling) {
      if (this.opened !== this.openWritten) this.change(this.opened + this.openCode);
      for (const [board, from] of this.moved) this.writeBoard(board, from);
      for (const board of this.moved.keys()) this.writeHouses(board);
    }
    this.openWritten = this.opened;
    this.moved.clear();
    this.pulsed.clear();
  }

  private writeBoard(board: number, from: number): void {
    const { clock, step: code, outputs } = this.boards[board]!;
    const to = this.step[board]!;
    if (this.pulsed.has(board)) this.change(`1${clock}`);
    if (to === from) return;
    this.change(`${stepValue(to)} ${code}`);
    const before = from < 0 ? [] : this.outputsAt[board]![from]!;
    const after = to < 0 ? [] : this.outputsAt[board]![to]!;
    for (const output of before) if (!after.includes(output)) this.change(`0${outputs[output]!}`);
    for (const output of after) if (!before.includes(output)) this.change(`1${outputs[output]!}`);
  }

  private writeHouses(board: number): void {
    for (const pattern of this.housesOf(board)) {
      for (const house of pattern) {
        const lit = this.litBy[house]! > 0 ? 1 : 0;
        if (lit === this.written[house]) continue;
        this.written[house] = lit;
        this.change(`${lit}${this.houses[house]!}`);
      }
    }
  }

  /** Houses that a board's move may have changed: those of the step it left, and of the one it is at. */
  private housesOf(board: number): (readonly number[])[] {
    return [this.moved.get(board)!, this.step[board]!].flatMap((step) => (step < 0 ? [] : [this.housesAt[board]![step]!]));
  }

  private change(value: string): void {
    if (!this.stamped) this.text += `#${this.now}\n`;
    this.stamped = true;
    this.text += `${value}\n`;
  }

  /** The state just before the first opening that was asked for. */
  private dumpAll(): void {
    this.telling = true;
    this.stamped = true;
    const lines = [`#${this.now}`, "$dumpvars", `${this.openWritten}${this.openCode}`];
    this.boards.forEach(({ step: code, outputs }, b) => {
      const step = this.moved.get(b) ?? this.step[b]!;
      const on = new Set(step < 0 ? [] : this.outputsAt[b]![step]!);
      lines.push(`${stepValue(step)} ${code}`, ...outputs.map((output, k) => (on.has(k) ? "1" : "0") + output));
    });
    this.houses.forEach((code, house) => {
      const lit = this.litBy[house]! > 0 ? 1 : 0;
      this.written[house] = lit;
      lines.push(`${lit}${code}`);
    });
    this.text += `${[...lines, "$end"].join("\n")}\n`;
  }
}

function stepValue(step: number): string {
  return step < 0 ? "bx" : `b${step.toString(2)}`;
}

function bitsFor(steps: number): number {
  return Math.max(1, Math.ceil(Math.log2(steps)));
}

/** Text that cannot end its comment early, nor begin a line. */
function comment(text: string): string {
  return text.replace(/\s+/g, " ").replace(/[\p{Cc}\p{Cf}]/gu, "").replaceAll("$", "＄");
}
