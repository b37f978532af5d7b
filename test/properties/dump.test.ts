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

test("a value change dump, read by the grammar of the standard, shows at every moment of the record which houses are lit", async () => {
  const { status, stdout } = await lampdrift(["export", demo, "--as", "vcd", "--days", "1"]);
  expect(status).toBe(0);
  const { timescale, signals } = readVcd(stdout);
  expect(timescale).toBe("1 us");
  let spells = 0;
  eachSpell(record, (scene, start, end) => {
    const lit = record.scenes.lit(scene);
    spells++;
    for (const at of [start, end - 1]) {
      scenario.houses.forEach(({ id }, house) => {
        expect(valueAt(signals.get(`display.houses.${id}`)!, at), `${id} at ${at}`).toBe(lit.includes(house) ? "1" : "0");
      });
    }
  });
  expect(spells).toBeGreaterThan(10);
});

test("a dump made while the display runs is, signal by signal, that of the finished record", async () => {
  const { stdout } = await lampdrift(["export", demo, "--as", "vcd", "--days", "1"]);
  const exporter = new VcdExporter(scenario, () => true);
  replay(record, exporter);
  exporter.ends();
  const [live, finished] = [readVcd(stdout).signals, readVcd(exporter.take()).signals];
  expect([...live.keys()]).toEqual([...finished.keys()]);
  for (const [name, changes] of live) {
    for (const start of record.spellStart) expect(valueAt(changes, start), `${name} at ${start}`).toBe(valueAt(finished.get(name)!, start));
  }
});
