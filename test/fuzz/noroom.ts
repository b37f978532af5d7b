/**
 * A program that runs every command that writes where nothing can be written, and prints how each ended as JSON:
 * `node noroom.js DIRECTORY readonly full|limited`. It may not be written into (readonly): made so, and undone again, by the shell
 * commands in the environment variables READONLY and READWRITE; it stands on a small file system of its own that is full, or files
 * may not grow (limited; the signal for that is ignored).
 */
import { execFileSync } from "node:child_process";
import { mkdir, open, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { writeFolder, type Making } from "../../reports/output/folder.js";
import { run } from "./verdict.js";
import { GIVEN, WRITERS, type Writer } from "./writers.js";

const [directory, ...ways] = process.argv.slice(2) as [string, ...string[]];

/** Fills the file system to the last byte but for some room that is no room for what is to be written. */
async function fill(path: string, room: number): Promise<void> {
  const file = await open(path, "w");
  const piece = Buffer.alloc(4096);
  let size = 0;
  for (;;) {
    const written = await file.write(piece).catch(() => null);
    if (written === null) break;
    size += written.bytesWritten;
  }
  await file.truncate(size - room);
  await file.close();
}

async function before({ args, before }: Writer): Promise<void> {
  await mkdir("out");
  const made = new Map([["index.html", "old"], ["old.svg", "old"]]);
  if (before === "made") await writeFolder("out", args[0] as Making, made);
  else for (const [name, text] of Object.entries(before)) await writeFile(join("out", name), text);
}

const contents = async (): Promise<string> =>
  JSON.stringify(await Promise.all((await readdir("out")).sort().map(async (name) => [name, await readFile(join("out", name), "utf8")])));

function shell(name: "READONLY" | "READWRITE"): void {
  execFileSync("sh", ["-c", process.env[name]!]);
}

process.chdir(directory);
for (const [name, text] of Object.entries(GIVEN)) await writeFile(name, text);
const told: Record<string, unknown[]> = {};
for (const how of ways) {
  if (how === "limited") execFileSync("prlimit", ["--pid", String(process.pid), "--fsize=512"]);
  told[how] = [];
  for (const [name, writer] of Object.entries(WRITERS)) told[how].push({ name, ...(await tryWriting(writer, how)) });
}
process.stdout.write(JSON.stringify(told));

/** How a command ends, and whether what was there stays. */
async function tryWriting(writer: Writer, how: string): Promise<Record<string, unknown>> {
  await before(writer);
  const old = await contents();
  // of a folder a few files find room
  if (how === "full") await fill("filler", writer.before === "made" ? 8192 : 0);
  if (how === "readonly") shell("READONLY");
  const { status, stdout, stderr } = await run({ args: writer.args, files: {} }, directory);
  const stays = (await contents()) === old;
  if (how === "readonly") shell("READWRITE");
  await rm("filler", { force: true });
  await rm("out", { recursive: true });
  return { status, stdout, stderr, stays };
}
