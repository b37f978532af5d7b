/** Every command that writes, with a display small enough to be quick. */

/** What a command is given, beside `display.yaml`, `other.yaml` and `log.csv`, and what it writes; each writes into `out` alone. */
export interface Writer {
  readonly args: readonly string[];
  /** What stands in `out` beforehand, by name; a folder that the command makes itself is made with `other.yaml`. */
  readonly before: Readonly<Record<string, string>> | "made";
  /** How it ends when all is well. */
  readonly status: number;
}

/** A remark, as long as people's are; with it no copy of the file is so small that it fits where nothing else does. */
const REMARK = "# the boards lie in the drawer, the lamps in the box beside it\n".repeat(40);

const display = (title: string, houses: readonly string[]): string => `${REMARK}lampdrift: 1
title: ${title}
opening: { from: "10:00", until: "11:00", run: 2 }
houses: { ${houses.map((id, i) => `${id}: { at: [${100 * i}, 50] }`).join(", ")} }
boards:
  quay:
    timer: { kind: astable, ra: 47k 1 %, rb: 100k 1 %, c: 100u, trimmer: { value: 500k 20 %, in: rb }, setTo: 40 s }
    counter: { kind: ring, steps: ${houses.length} }
    outputs: { ${houses.map((id, i) => `${i}: ${id}`).join(", ")} }
`;

/** The files that the commands are given. */
export const GIVEN: Readonly<Record<string, string>> = {
  "display.yaml": display("Small", ["inn", "mill"]),
  "other.yaml": display("Smaller", ["inn", "mill", "forge"]),
  "log.csv": `board,time\n${Array.from({ length: 12 }, (_, i) => `quay,${40 * i + (i % 3) / 10}`).join("\n")}\n`,
};

export const WRITERS: Readonly<Record<string, Writer>> = {
  new: { args: ["new", "out/display.yaml"], before: {}, status: 0 },
  "tune --write": { args: ["tune", "display.yaml", "--builds", "2", "--write", "out/tuned.yaml"], before: {}, status: 0 },
  "tune --map": { args: ["tune", "display.yaml", "--builds", "2", "--map", "out/map.svg"], before: { "map.svg": "an older map" }, status: 0 },
  "arrange --write": { args: ["arrange", "display.yaml", "--tries", "200", "--write", "out/arranged.yaml"], before: {}, status: 0 },
  "arrange -o": { args: ["arrange", "display.yaml", "--tries", "200", "-o", "out"], before: { "arrangement.svg": "an older picture" }, status: 0 },
  "fit --picture": { args: ["fit", "log.csv", "--picture", "out/fit.svg"], before: { "fit.svg": "an older picture" }, status: 0 },
  export: { args: ["export", "display.yaml", "--as", "vcd", "-o", "out/record.vcd"], before: { "record.vcd": "an older record" }, status: 0 },
  report: { args: ["report", "display.yaml", "--builds", "2", "-o", "out"], before: "made", status: 0 },
  cards: { args: ["cards", "display.yaml", "-o", "out"], before: "made", status: 0 },
  "compare -o": { args: ["compare", "display.yaml", "other.yaml", "--builds", "4", "-o", "out"], before: "made", status: 0 },
};

/** The arguments with which a folder was made beforehand. */
export function earlier({ args }: Writer): string[] {
  return args.map((arg) => (arg === "display.yaml" ? "other.yaml" : arg === "other.yaml" ? "display.yaml" : arg));
}
