import { expect, test } from "vitest";
import { VcdExporter } from "../../reports/export/vcd.js";
import { eachSpell } from "../../sim/engine/record.js";
import { simulate } from "../../sim/engine/simulate.js";
import { readScenario } from "../../sim/scenario/file.js";
import { readVcd, valueAt } from "../oracle/vcd.js";
import { replay } from "../oracle/replay.js";
import { lampdrift } from "../endtoend/inprocess.js";

const demo = "scenarios/workshop.yaml";
const read = await readScenario(demo);
const scenario = { ...read, opening: { ...read.opening, run: 1 } };
const record = simulate(scenario, { trace: true });
const { status, stdout: dumped } = await lampdrift(["export", demo, "--as", "vcd", "--days", "1"]);

test("a value change dump, read by the grammar of the standard, shows at every moment of the record which houses are lit", () => {
  expect(status).toBe(0);
  const { timescale, signals } = readVcd(dumped);
  expect(timescale).toBe("1 us");
  let spells = 0;
  const amiss: string[] = [];
  eachSpell(record, (scene, start, end) => {
    const lit = record.scenes.lit(scene);
    spells++;
    for (const at of [start, end - 1]) {
      scenario.houses.forEach(({ id }, house) => {
        if (valueAt(signals.get(`display.houses.${id}`)!, at) !== (lit.includes(house) ? "1" : "0")) amiss.push(`${id} at ${at}`);
      });
    }
  });
  expect(amiss).toEqual([]);
  expect(spells).toBeGreaterThan(10);
});

test("a dump made while the display runs is, signal by signal, that of the finished record", () => {
  const exporter = new VcdExporter(scenario, () => true);
  replay(record, exporter);
  exporter.ends();
  const [live, finished] = [readVcd(dumped).signals, readVcd(exporter.take()).signals];
  expect([...live.keys()]).toEqual([...finished.keys()]);
  for (const [name, changes] of live) {
    const other = finished.get(name)!;
    expect([...record.spellStart].filter((start) => valueAt(changes, start) !== valueAt(other, start)), name).toEqual([]);
  }
});
