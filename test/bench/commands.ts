import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { manyBoards, threeBoardsFor } from "./displays.js";
import { onCores, row } from "./measure.js";

const cli = fileURLToPath(new URL("../../bin/cli.js", import.meta.url));
export const scenario = (name: string): string => fileURLToPath(new URL(`../../../scenarios/${name}.yaml`, import.meta.url));
export const demo = scenario("tidewater-lane");

/** A module that, loaded first, lets a process tell at its end what it took. */
const TELL =
  'process.on("exit", () => { const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage();' +
  'process._rawDebug("took " + (userCPUTime + systemCPUTime) + " µs, " + maxRSS + " kB"); });\n';

interface Outcome {
  readonly status: number;
  /** Processor time of all its threads. */
  readonly cpuSeconds: number;
  readonly wallSeconds: number;
  readonly megabytes: number;
  readonly stdout: string;
}

interface Way {
  /** How many times it is run; the median counts, and the largest memory. */
  readonly rounds: number;
  /** On one core, so that on an idle machine it takes as long as its processor time; default true. */
  readonly pinned?: boolean;
}

/** Does something in a folder of its own, which is gone afterwards. */
export function inFolder(work: (folder: string) => void): void {
  const folder = mkdtempSync(join(tmpdir(), "lampdrift-bench-"));
  try {
    work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Runs the command as a whole process, as often as asked. */
export function runCommand(args: readonly string[], { rounds, pinned = true }: Way): Outcome {
  const outcomes: Outcome[] = [];
  inFolder((folder) => {
    const tell = join(folder, "tell.cjs");
    writeFileSync(tell, TELL);
    const [program, ...rest] = [...onCores(pinned ? "last" : "all"), process.execPath, "--require", tell, cli, ...args];
    for (let i = 0; i < rounds; i++) {
      const start = performance.now();
      const { status, stdout, stderr } = spawnSync(program!, rest, { encoding: "utf8", maxBuffer: 1e9 });
      const wallSeconds = (performance.now() - start) / 1000;
      const took = /took (\d+) µs, (\d+) kB/.exec(stderr);
      if (status === null || took === null) throw new Error(`${args.join(" ")}: status ${status}\n${stderr}`);
      outcomes.push({ status, cpuSeconds: Number(took[1]) / 1e6, wallSeconds, megabytes: Number(took[2]) / 1024, stdout });
    }
  });
  outcomes.sort((a, b) => (pinned ? a.cpuSeconds - b.cpuSeconds : a.wallSeconds - b.wallSeconds));
  return { ...outcomes[rounds >> 1]!, megabytes: Math.max(...outcomes.map(({ megabytes }) => megabytes)) };
}

/** As {@link runCommand}, for a command that must do its work: ended well, or with a promise broken, and printed this. */
export function runWell(args: readonly string[], way: Way, printed: string | RegExp): Outcome {
  const outcome = runCommand(args, way);
  if (outcome.status > 1 || outcome.stdout.search(printed) < 0) throw new Error(`${args.join(" ")} did something else:\n${outcome.stdout}`);
  return outcome;
}

/** Whole commands, from a cold start. */
export function benchCommands(): void {
  const few = { rounds: 3 };
  const cold = { rounds: 7 };
  row("--version, cold", runWell(["--version"], cold, /^\d/).cpuSeconds, "s", { atMost: 0.15 });
  row("--help, cold", runWell(["--help"], cold, "Usage").cpuSeconds, "s", { atMost: 0.15 });
  row("run tidewater-lane, cold", runWell(["run", demo], cold, "Tidewater Lane").cpuSeconds, "s", { atMost: 0.42 });
  inFolder((folder) => {
    const report = runWell(["report", demo, "-o", join(folder, "report")], few, "");
    row("report tidewater-lane, cold", report.cpuSeconds, "s", { atMost: 2.2 });
    row("cards tidewater-lane, cold", runWell(["cards", demo, "-o", join(folder, "cards")], few, "").cpuSeconds, "s", { atMost: 1.2 });
  });
  row("hunt tidewater-lane, one worker", runWell(["hunt", demo, "--workers", "1"], few, "in 2000").cpuSeconds, "s", { atMost: 4.6 });
  row("tune tidewater-lane, one worker", runWell(["tune", demo, "--workers", "1"], few, "").cpuSeconds, "s", { atMost: 3 });
  benchSpread();
  inFolder(benchLimits);
}

/** A thousand builds of the demo with one thread on one core, and with two on all: the same bytes, sooner. */
function benchSpread(): void {
  const spread = (workers: number): Outcome =>
    runWell(["spread", demo, "--builds", "1000", "--workers", `${workers}`, "--json"], { rounds: 3, pinned: workers === 1 }, /"builds": ?1000/);
  const one = spread(1);
  const two = spread(2);
  if (one.stdout !== two.stdout) throw new Error("one worker and two gave different bytes");
  row("spread of 1,000 builds, one worker on one core", one.cpuSeconds, "s", { atMost: 3 });
  row(`spread of 1,000 builds, two workers (load ${loadavg()[0]!.toFixed(1)})`, two.wallSeconds, "s", { atMost: 2.2 });
  row("  its peak memory", two.megabytes, "MB", { atMost: 400 });
}

/** As many pulses, and as many boards, as a run may have. */
function benchLimits(folder: string): void {
  const once = { rounds: 1 };
  const many = join(folder, "many.yaml");
  writeFileSync(many, manyBoards(490, 10, 4, 'from: "10:00", until: "17:00"'));
  const boards = runCommand(["run", many, "--json"], once);
  if (boards.status > 2) throw new Error(`490 boards: status ${boards.status}`);
  row(`490 boards, four days: ${boards.status === 2 ? "refused" : "done"}`, boards.cpuSeconds, "s", { atMost: 10 });
  row("  its peak memory", boards.megabytes, "MB", { atMost: 1000 });
  const long = join(folder, "long.yaml");
  // 536 pulses an hour and a half million spells a year
  writeFileSync(long, threeBoardsFor(25_000, "0.5 %"));
  const pulses = runWell(["run", long, "--json"], once, /"changes": ?3\d{7}/);
  row("run of nearly 40 million pulses", pulses.cpuSeconds, "s", { atMost: 60 });
  row("  its peak memory", pulses.megabytes, "MB", { atMost: 1400 });
}
