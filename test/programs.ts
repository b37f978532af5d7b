import { spawnSync } from "node:child_process";

/** Why a test that needs these programs is left out; on CI a missing one is a failure, not a reason. */
export function missing(...programs: readonly string[]): string | false {
  if (process.env["CI"] !== undefined) return false;
  const absent = programs.filter((name) => spawnSync("sh", ["-c", `command -v ${name}`]).status !== 0);
  return absent.length === 0 ? false : `not installed here: ${absent.join(", ")}`;
}
