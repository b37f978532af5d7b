import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { tenYears } from "./engine.js";
import { largeDisplay } from "./large.js";
import { row } from "./measure.js";
import { chaser } from "../chaser.js";

const cli = fileURLToPath(new URL("../../bin/cli.js", import.meta.url));
const scenario = (name: string): string => fileURLToPath(new URL(`../../../scenarios/${name}.yaml`, import.meta.url));
export const demo = scenario("tidewater-lane");
/** Prints the process's own peak memory when it ends. */
const tellMemory = "data:text/javascript,process.on('exit',()=>process._rawDebug('peak-kb '+process.resourceUsage().maxRSS))";

interface Outcome {
  readonly seconds: number;
  readonly megabytes: number;
  readonly stdout: string;
}

/** Runs the command as a whole process: median of wall times, largest memory. */
export function runCommand(args: readonly string[], rounds: number): Outcome {
  const outcomes = Array.from({ length: rounds }, () => {
    const start = performance.now();
    const { status, stdout, stderr } = spawnSync(process.execPath, ["--import", tellMemory, cli, ...args], {
      encoding: "utf8",
      maxBuffer: 1e9,
    });
    const seconds = (performance.now() - start) / 1000;
    const peak = /peak-kb (\d+)/.exec(stderr);
    if (status === null || status > 1 || peak === null) throw new Error(`${args.join(" ")}: status ${status}\n${stderr}`);
    return { seconds, megabytes: Number(peak[1]) / 1024, stdout };
  }).sort((a, b) => a.seconds - b.seconds);
  return { ...outcomes[rounds >> 1]!, megabytes: Math.max(...outcomes.map(({ megabytes }) => megabytes)) };
}

/** Whole commands, from a cold start. */
export function benchCommands(): void {
  const folder = mkdtempSync(join(tmpdir(), "lampdrift-bench-"));
  try {
    const run = runCommand(["run", demo], 5);
    if (!run.stdout.includes("Tidewater Lane")) throw new Error("run printed something else");
    row("run tidewater-lane, cold", run.seconds, "s", { atMost: 0.42 });

    row("report tidewater-lane, cold", runCommand(["report", demo, "-o", join(folder, "report")], 3).seconds, "s", { atMost: 2.2 });

    row("cards tidewater-lane, cold", runCommand(["cards", demo, "-o", join(folder, "cards")], 3).seconds, "s", { atMost: 1.2 });
    row("hunt tidewater-lane", runCommand(["hunt", demo], 1).seconds, "s", { atMost: 4.6 });
    row("tune tidewater-lane", runCommand(["tune", demo], 1).seconds, "s", { atMost: 3 });

    benchSpread();
    benchChoosing();

    const years = join(folder, "ten-years.yaml");
    writeFileSync(years, tenYears("0.5 %"));
    const decade = runCommand(["run", years, "--json"], 3);
    const figures = JSON.parse(decade.stdout) as { observed: { days: number }; scenes: { changes: number } };
    if (figures.observed.days !== 3650 || figures.scenes.changes < 5e6) throw new Error("ten years were not simulated");
    row("run ten years of three jittering boards", decade.seconds, "s", { atMost: 3 });
    row("  its peak memory", decade.megabytes, "MB", { atMost: 500 });

    benchLarge(folder);
    benchExport(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Settings and faults: what somebody waits for at the bench or in front of the display. */
function benchChoosing(): void {
  const tuned = runCommand(["tune", scenario("twin-boards"), "--json"], 3);
  if ((JSON.parse(tuned.stdout) as { settings: unknown[] }).settings.length !== 5) throw new Error("no five settings were found");
  row("tune twin-boards", tuned.seconds, "s", { atMost: 20 });
  for (const [name, board] of [["tidewater-lane", "quay"], ["twin-boards", "north"], ["workshop", "ring"]] as const) {
    const found = runCommand(["fault", scenario(name), "--frozen", board, "--json"], 3);
    if ((JSON.parse(found.stdout) as { candidates: unknown[] }).candidates.length < 20) throw new Error("too few faults were looked at");
    row(`fault ${name}`, found.seconds, "s", { atMost: 2 });
  }
}

/** A thousand builds of the demo with one thread and with two: the same bytes, sooner. */
function benchSpread(): void {
  const spread = (workers: number): Outcome => runCommand(["spread", demo, "--builds", "1000", "--workers", String(workers), "--json"], 3);
  const one = spread(1);
  const two = spread(2);
  if (one.stdout !== two.stdout) throw new Error("one worker and two gave different bytes");
  if ((JSON.parse(two.stdout) as { builds: number }).builds !== 1000) throw new Error("not all builds were simulated");
  row("spread of 1,000 builds, one worker", one.seconds, "s", { atMost: 3 });
  row("spread of 1,000 builds, two workers", two.seconds, "s", { atMost: 2.2 });
  row("  its peak memory", two.megabytes, "MB", { atMost: 400 });
  row("  one worker's time over two workers'", one.seconds / two.seconds, "", { atLeast: 1.6 });
}

/** All cards of displays that are as large as anybody will build. */
function benchLarge(folder: string): void {
  for (const [what, boards, houses] of [["500 houses on 50 boards", 50, 10], ["64 boards", 64, 8], ["a ring of 1,000 steps", 1, 1000]] as const) {
    const file = join(folder, `large-${boards}.yaml`);
    writeFileSync(file, largeDisplay(boards, houses));
    const { seconds, megabytes } = runCommand(["cards", file, "-o", join(folder, `cards-${boards}`)], 1);
    row(`cards of ${what}`, seconds, "s", { atMost: 10 });
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
    const { seconds, megabytes } = runCommand(["export", display, "--as", as, "-o", file], 1);
    // no spell takes less than its start and its scene
    if (statSync(file).size < 1e8) throw new Error(`ten million spells were not written as ${as}`);
    row(`export ten million spells as ${as}`, seconds, "s", {});
    row("  its peak memory", megabytes, "MB", { atMost: 300 });
    rmSync(file);
  }
}
