/** `npm run build`: the compiler, the page's script, the page by itself; nothing where `dist` is made of what stands here now. */
import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";

process.chdir(import.meta.dirname);
/** The files that the last whole build read, with the digests of their contents; the tests look whether they are still these. */
const NOTE = "dist/made-of.json";

function sources() {
  const rooms = ["sim", "reports", "test/bench", "test/fuzz"];
  const all = rooms.flatMap((room) => readdirSync(room, { recursive: true, encoding: "utf8" }).map((file) => `${room}/${file.replaceAll("\\", "/")}`));
  const besides = readdirSync("test").map((file) => `test/${file}`);
  return [...all, ...besides].filter((file) => file.endsWith(".ts"));
}

const read = [".build.js", "package.json", "package-lock.json", "tsconfig.json", "scenarios/tidewater-lane.yaml", ...sources()];
const digests = read.map((file) => [file, createHash("sha256").update(readFileSync(file)).digest("hex")]);
const note = `${JSON.stringify(Object.fromEntries(digests), null, 1)}\n`;

if (!existsSync(NOTE) || readFileSync(NOTE, "utf8") !== note) {
  rmSync(NOTE, { force: true });
  const node = (...args) => execFileSync(process.execPath, args, { stdio: "inherit" });
  try {
    node("node_modules/typescript-7/bin/tsc", "-p", "tsconfig.json");
    node("dist/reports/bundle.js");
    node("dist/reports/standalone.js");
    writeFileSync(NOTE, note);
  } catch (error) {
    // each has said by itself what it has to say
    process.exitCode = error.status ?? 1;
  }
}
