import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { eachSpell, type SceneRecord } from "../../sim/engine/record.js";
import { simulate } from "../../sim/engine/simulate.js";
import { readScenario } from "../../sim/scenario/file.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { outputsOn } from "../oracle/counters.js";
import type { Counter } from "../oracle/spec.js";
import { follow, readVcd, type Dump } from "../oracle/vcd.js";
import { missing } from "../programs.js";
import { demo, demos, program, scratch } from "./command.js";
import { lampdrift } from "./inprocess.js";

const root = await scratch();
const noTools = missing("vcd2fst", "fst2vcd");

type Board = Scenario["boards"][number];

/** Outputs on at a step, by the second implementation of the counters. */
function on({ counter }: Board, step: number): readonly number[] {
  if (step < 0) return [];
  return counter.kind === "shuffle" ? counter.steps[step]! : outputsOn(counter as Counter, step);
}

/** What is wrong with a dump, held against the record: houses at the start and the end of every spell, boards after every move. */
function differences({ signals }: Dump, record: SceneRecord): string[] {
  const { scenario, scenes, trace } = record;
  const wrong: string[] = [];
  const signal = (name: string): ((time: number) => string) => follow(signals.get(`display.${name}`) ?? []);
  const open = signal("open");
  const houses = scenario.houses.map(({ id }) => ({ id, at: signal(`houses.${id}`) }));
  eachSpell(record, (scene, start, end) => {
    const lit = new Set(scenes.lit(scene));
    for (const time of [start, end - 1]) {
      if (open(time) !== "1") wrong.push(`closed at ${time}`);
      houses.forEach(({ id, at }, house) => {
        const found = at(time);
        if (found !== (lit.has(house) ? "1" : "0")) wrong.push(`${id} is ${found} at ${time}`);
      });
    }
  });
  scenario.boards.forEach((board, b) => {
    const step = signal(`${board.id}.step`);
    const outputs = [...signals.keys()]
      .filter((name) => name.startsWith(`display.${board.id}.output`))
      .map((name) => ({ output: Number(/\d+$/.exec(name)![0]), at: signal(name.slice("display.".length)) }));
    // the last move of a microsecond is the one that is seen
    const moves = Array.from(trace!.time, (time, i) => ({ time, board: trace!.board[i]!, to: trace!.step[i]! })).filter((move) => move.board === b);
    moves.forEach(({ time, to }, i) => {
      if (moves[i + 1]?.time === time) return;
      const found = step(time);
      if (to < 0 ? !/^x+$/.test(found) : parseInt(found, 2) !== to) wrong.push(`${board.id} is at step ${found} at ${time}`);
      for (const { output, at } of outputs) {
        if (at(time) !== (on(board, to).includes(output) ? "1" : "0")) wrong.push(`output ${output} of ${board.id} is ${at(time)} at ${time}`);
      }
    });
  });
  return wrong;
}

describe.each(demos)("the value change dump of %s", (name) => {
  const file = join(root, `${name}.vcd`);
  const exported = lampdrift(["export", demo(name), "--as", "vcd", "-o", file]);
  const recorded = readScenario(demo(name)).then((scenario) => simulate(scenario, { trace: true }));

  test("holds the record, every step and every output", async () => {
    expect((await exported).status).toBe(0);
    const dump = readVcd(await readFile(file, "utf8"));
    expect(dump.timescale).toBe("1 us");
    expect(differences(dump, await recorded)).toEqual([]);
  });

  test("holds it still when a waveform viewer's own tools have read it and written it anew", async ({ skip }) => {
    skip(noTools !== false, String(noTools));
    await exported;
    const waves = join(root, `${name}.fst`);
    expect(await program("vcd2fst", [file, waves])).toMatchObject({ status: 0, stderr: "" });
    const back = await program("fst2vcd", [waves]);
    expect(back.status).toBe(0);
    const dump = readVcd(back.stdout);
    expect([...dump.signals.keys()]).toEqual([...readVcd(await readFile(file, "utf8")).signals.keys()]);
    expect(differences(dump, await recorded)).toEqual([]);
  });

  test("is told from one in which a single house is wrong once", async () => {
    await exported;
    const text = await readFile(file, "utf8");
    const record = await recorded;
    const [, code] = /\$var wire 1 (\S+) \S+ \$end\n(?:\$comment .*\n)?\$upscope \$end\n\$upscope/.exec(text)!;
    const at = text.indexOf(`\n1${code!}\n`, text.length >> 1);
    expect(at).toBeGreaterThan(0);
    const spoilt = readVcd(`${text.slice(0, at)}\n0${text.slice(at + 2)}`);
    expect(differences(spoilt, record).length).toBeGreaterThan(0);
  });
});
