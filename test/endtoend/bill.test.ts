import { describe, expect, test } from "vitest";
import { lampdrift } from "./inprocess.js";

interface Item {
  readonly what: string;
  readonly value: string;
  readonly rating: string | null;
  readonly count: number;
  readonly spares: number;
  readonly boards: Record<string, number>;
  readonly references: Record<string, string[]>;
}

const FILE = "scenarios/twin-boards.yaml";

describe("bill", () => {
  test("as text: a table with a column for each board", async () => {
    const { status, stdout, stderr } = await lampdrift(["bill", FILE]);
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    const [head = "", ...rows] = stdout.split("\n");
    for (const word of ["part", "value", "rating", "count", "north", "south"]) expect(head).toContain(word);
    // in the file each board has one capacitor of 220 uF, one trimmer of 250 k and one resistor of 220 k
    expect(rows.find((row) => row.includes("220 µF"))).toMatch(/^capacitor .*\b2\b.*\b1\b.*\b1\b/);
    expect(rows.find((row) => row.startsWith("trimmer"))).toMatch(/250 kΩ.*\b2\b/);
    expect(rows.some((row) => /^resistor +220 kΩ/.test(row))).toBe(true);
  });

  test("as JSON and as CSV: the same items, counts that add up, spares in whole pieces", async () => {
    const json = await lampdrift(["bill", FILE, "--spares", "10%", "--json"]);
    expect(json.status).toBe(0);
    const { items } = JSON.parse(json.stdout) as { items: Item[] };
    expect(items.length).toBeGreaterThan(5);
    for (const { what, count, spares, boards, references } of items) {
      if (what !== "wire") expect(spares).toBe(Math.ceil(count * 0.1));
      for (const [id, names] of Object.entries(references)) if (what !== "lamp" && names.length > 0) expect(boards[id]).toBeGreaterThan(0);
    }
    const csv = await lampdrift(["bill", FILE, "--spares", "10%", "--csv"]);
    expect(csv.status).toBe(0);
    const [head = "", ...lines] = csv.stdout.trim().split(/\r?\n/);
    expect(head.split(",")).toEqual(["what", "value", "rating", "count", "spares", "north", "south", "references"]);
    expect(lines.map((line) => line.split(",")[0])).toEqual(items.map(({ what }) => what));
  });

  test.each(["lots", "-10%", "1e99"])("--spares %s is refused in words", async (spares) => {
    const { status, stdout, stderr } = await lampdrift(["bill", FILE, `--spares=${spares}`]);
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toContain("--spares");
    expect(stderr).not.toContain("    at ");
  });

  test("--csv and --json together are refused", async () => {
    const { status, stderr } = await lampdrift(["bill", FILE, "--csv", "--json"]);
    expect(status).toBe(2);
    expect(stderr).toContain("--csv and --json cannot both be printed");
  });
});
