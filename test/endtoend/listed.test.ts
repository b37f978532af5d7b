import { expect, test } from "vitest";
import { LISTED } from "../../reports/commands/listed.js";
import { lampdrift } from "./inprocess.js";

// The list is printed without loading the commands; what each of them says of itself is the oracle
test.each(Object.entries(LISTED))("%s is listed as it is", async (name, { description, usage }) => {
  const { stdout } = await lampdrift([name, "--help"]);
  const words = usage.replace(/^\[options\] ?/, "");
  expect(stdout.split("\n")[0]!.trimEnd()).toBe(`Usage: lampdrift ${name} [options] ${words}`.trimEnd());
  expect(stdout.replace(/\s+/g, " ")).toContain(description);
  const options = stdout.split("\nOptions:\n")[1]!.split("\n\n")[0]!.match(/^ {2}-/gm)!;
  expect(usage.startsWith("[options]")).toBe(options.length > 1);
});
