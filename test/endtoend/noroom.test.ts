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

/** Where nothing is read-only for the user that runs this, it takes a file system. */
const protectable = mountable || process.getuid?.() !== 0;

/** Every command that writes, run in a folder that is read-only, and where there is no room. */
async function endings(): Promise<{ readonly?: Ended[]; full?: Ended[]; limited?: Ended[] }> {
  const directory = join(root, "here");
  await mkdir(directory);
  const turn = (mode: "ro" | "rw"): string => (mountable ? `mount -o remount,${mode} "${directory}"` : `chmod ${mode === "ro" ? "a-w" : "u+w"} out`);
  const env = { NODE: process.execPath, DRIVER: driver, DIRECTORY: directory, READONLY: turn("ro"), READWRITE: turn("rw") };
  const ways = `${protectable ? "readonly" : ""} ${mountable ? "full" : "limited"}`;
  const line = `${mountable ? 'mount -t tmpfs -o size=256k none "$DIRECTORY"' : 'trap "" XFSZ'} && exec "$NODE" "$DRIVER" "$DIRECTORY" ${ways}`;
  const [file, args] = mountable ? ["unshare", ["-rm", "bash", "-c", line]] : ["bash", ["-c", line]];
  const { stdout, stderr, status } = await program(file, args, { env });
  expect(status, stderr).toBe(0);
  return JSON.parse(stdout) as Awaited<ReturnType<typeof endings>>;
}

function expectRefused(ended: readonly Ended[], says: RegExp): void {
  expect(ended.map(({ name }) => name)).toEqual(Object.keys(WRITERS));
  for (const { name, status, stdout, stderr, stays } of ended) {
    expect({ name, status, stdout, stays }).toEqual({ name, status: 2, stdout: "", stays: true });
    expect(stderr, name).toMatch(says);
  }
}

describe("where nothing can be written every command that writes says it in a sentence, with status 2, and what was there stays", async () => {
  const ended = await endings();

  test("no room", () => {
    const reason = mountable ? "the disk is full" : "the file would be larger than the system allows";
    expectRefused(ended.full ?? ended.limited!, new RegExp(`^cannot write [^\n]*: ${reason}\n$`));
  });

  test("a read-only folder", ({ skip }) => {
    if (!protectable) skip("nothing is read-only for this user, and a file system of its own is not to be had");
    expectRefused(ended.readonly!, /^cannot write (into )?out[^\n]*: no permission\n$/);
  });
});
