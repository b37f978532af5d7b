import { mkdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, test } from "vitest";
import { lampdriftProcess, scratch, type Outcome } from "./command.js";

const root = await scratch();

const tiny = join(root, "tiny.yaml");
await writeFile(
  tiny,
  `lampdrift: 1
title: Tiny
opening: { from: "10:00", until: "11:00", run: 1 }
houses: { inn: , mill: }
boards:
  quay: { timer: { kind: quartz, step: 40 s }, counter: { kind: ring, steps: 3 }, outputs: { 0: inn, 1: mill } }
`,
);

/** A report with `--open`, where the desktop's program for opening things does this. */
async function opened(name: string, does: string, desktop: Readonly<Record<string, string>>): Promise<Outcome & { readonly cwd: string; readonly given: string | null }> {
  const cwd = join(root, name);
  await mkdir(cwd);
  await writeFile(join(cwd, "xdg-open"), `#!/bin/sh\nprintf %s "$*" > given\n${does}\n`, { mode: 0o755 });
  const env = { DISPLAY: "", WAYLAND_DISPLAY: "", ...desktop, PATH: `${cwd}:${process.env["PATH"]!}` };
  const outcome = await lampdriftProcess(["report", tiny, "--builds", "0", "-o", "a report", "--open"], { cwd, env });
  return { ...outcome, cwd, given: await readFile(join(cwd, "given"), "utf8").catch(() => null) };
}

const addressIn = (cwd: string): string => pathToFileURL(join(cwd, "a report/index.html")).href;

describe.skipIf(process.platform !== "linux")("report --open", () => {
  test("opens the page on a desktop", async () => {
    const { status, stderr, cwd, given } = await opened("desktop", "exit 0", { WAYLAND_DISPLAY: "wayland-0" });
    expect(given).toBe(addressIn(cwd));
    expect({ status, stderr }).toEqual({ status: 0, stderr: expect.stringMatching(/^wrote a report\/index\.html and \d+ files beside it\n$/) as string });
  });

  test("does not wait for a browser that stays open", async () => {
    // as long as it lives nobody can wait for it
    const { status, given, cwd } = await opened("stays", "exec sleep 300 & echo $! > child; wait", { DISPLAY: ":0" });
    process.kill(Number(await readFile(join(cwd, "child"), "utf8")));
    expect({ status, given }).toEqual({ status: 0, given: addressIn(cwd) });
  });

  test.each([
    ["there is no desktop", "exit 0", {}, null],
    ["the desktop has nothing to open it with", "exit 3", { DISPLAY: ":0" }, "asked"],
  ])("says where the page is where %s", async (what, does, desktop, asked) => {
    const { status, stderr, cwd, given } = await opened(what, does, desktop);
    expect(given === null).toBe(asked === null);
    expect(status).toBe(0);
    expect(stderr).toContain(`there is no desktop here to open the page on; it is at ${addressIn(cwd)}\n`);
  });
});
