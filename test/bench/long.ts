import { rmSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { inFolder, runWell, scenario } from "./commands.js";
import { threeBoardsFor } from "./displays.js";
import { largeDisplay } from "./large.js";
import { row } from "./measure.js";
import { chaser } from "../chaser.js";

const few = { rounds: 3 };
const once = { rounds: 1 };

/** What takes longer than anybody wants to wait for the table of every day: large displays, long records, other demos. */
export function benchLong(): void {
  benchChoosing();
  inFolder((folder) => {
    const years = join(folder, "ten-years.yaml");
    writeFileSync(years, threeBoardsFor(3650, "0.5 %"));
    const decade = runWell(["run", years, "--json"], few, /"days": ?3650/);
    row("run ten years of three jittering boards", decade.cpuSeconds, "s", { atMost: 3 });
    row("  its peak memory", decade.megabytes, "MB", { atMost: 500 });
    benchLarge(folder);
    benchExport(folder);
  });
}

/** Settings and faults: what somebody waits for at the bench or in front of the display. */
function benchChoosing(): void {
  const tuned = runWell(["tune", scenario("twin-boards"), "--workers", "1", "--json"], few, "");
  if ((JSON.parse(tuned.stdout) as { settings: unknown[] }).settings.length !== 5) throw new Error("no five settings were found");
  row("tune twin-boards", tuned.cpuSeconds, "s", { atMost: 20 });
  for (const [name, board] of [["tidewater-lane", "quay"], ["twin-boards", "north"], ["workshop", "ring"]] as const) {
    const found = runWell(["fault", scenario(name), "--frozen", board, "--json"], few, "");
    if ((JSON.parse(found.stdout) as { candidates: unknown[] }).candidates.length < 20) throw new Error("too few faults were looked at");
    row(`fault ${name}`, found.cpuSeconds, "s", { atMost: 2 });
  }
}

/** All cards of displays that are as large as anybody will build. */
function benchLarge(folder: string): void {
  for (const [what, boards, houses] of [["500 houses on 50 boards", 50, 10], ["64 boards", 64, 8], ["a ring of 1,000 steps", 1, 1000]] as const) {
    const file = join(folder, `large-${boards}.yaml`);
    writeFileSync(file, largeDisplay(boards, houses));
    const { cpuSeconds, megabytes } = runWell(["cards", file, "-o", join(folder, `cards-${boards}`)], once, "");
    row(`cards of ${what}`, cpuSeconds, "s", { atMost: 10 });
    row("  its peak memory", megabytes, "MB", { atMost: 500 });
  }
}

const TEN_MILLION = chaser("Ten million spells", '{ from: "10:00", until: "17:00", run: 4 }');

/** A long record written for other programs: its memory does not grow with it. */
function benchExport(folder: string): void {
  const display = join(folder, "ten-million.yaml");
  writeFileSync(display, TEN_MILLION);
  for (const as of ["csv", "vcd", "json"]) {
    const file = join(folder, `ten-million.${as}`);
    const { cpuSeconds, megabytes } = runWell(["export", display, "--as", as, "-o", file], once, "");
    // no spell takes less than its start and its scene
    if (statSync(file).size < 1e8) throw new Error(`ten million spells were not written as ${as}`);
    row(`export ten million spells as ${as}`, cpuSeconds, "s", {});
    row("  its peak memory", megabytes, "MB", { atMost: 300 });
    rmSync(file);
  }
}
