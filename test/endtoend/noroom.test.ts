import { spawnSync } from "node:child_process";
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { WRITERS } from "../fuzz/writers.js";
import { program, project, scratch } from "./command.js";

const root = await scratch();
const driver = join(project, "dist/test/fuzz/noroom.js");

interface Ended {
  readonly name: string;
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
  readonly stays: boolean;
}

/** A small file system of our own, where the system lets anybody have one. */
const mountable = spawnSync("unshare", ["-rm", "sh", "-c", `mount -t tmpfs -o size=64k none ${root}`]).status === 0;

/** Runs every command that writes, in a process of its own, inside what the shell has prepared. */
async function inside(name: string, prepare: string, how: string): Promise<Ended[]> {
  const directory = join(root, name);
  await mkdir(directory);
  const line = `${prepare} && exec "$NODE" "$DRIVER" "$DIRECTORY" ${how}`;
  const env = { NODE: process.execPath, DRIVER: driver, DIRECTORY: directory, READONLY: `mount -o remount,ro "${directory}"` };
  const [file, args] = how === "limited" ? ["bash", ["-c", line]] : ["unshare", ["-rm", "bash", "-c", line]];
  const { stdout, stderr, status } = await program(file, args, { env });
  expect(status, stderr).toBe(0);
  return JSON.parse(stdout) as Ended[];
}
const mount = (size: string): string => `mount -t tmpfs -o size=${size} none "$DIRECTORY"`;

describe("where nothing can be written", () => {
  test("every command that writes says it in a sentence, with status 2, and what was there stays", async () => {
    const ended = await (mountable ? inside("full", mount("256k"), "full") : inside("limited", 'trap "" XFSZ', "limited"));
    expect(ended.map(({ name }) => name)).toEqual(Object.keys(WRITERS));
    for (const { name, status, stdout, stderr, stays } of ended) {
      expect({ name, status, stdout, stays }).toEqual({ name, status: 2, stdout: "", stays: true });
      expect(stderr, name).toMatch(/^cannot write [^\n]*: (the disk is full|the file would be larger than the system allows)\n$/);
    }
  });

  test.skipIf(!mountable)("a read-only folder is told, too", async () => {
    const [{ status, stderr, stays } = { status: 0, stderr: "", stays: false }] = await inside("readonly", mount("256k"), "readonly");
    expect({ status, stderr, stays }).toEqual({ status: 2, stderr: "cannot write out/display.yaml: no permission\n", stays: true });
  });
});
