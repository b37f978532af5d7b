import { spawn } from "node:child_process";
import { setTimeout as sleep } from "node:timers/promises";

/** The program that opens things, and what it is given besides. Windows' answers before it has opened anything, and always with 1. */
const OPENERS: Readonly<Partial<Record<NodeJS.Platform, readonly string[]>>> = { darwin: ["open"], win32: ["explorer.exe"] };
/** A desktop that has not refused by then is opening it, ms. */
const PATIENCE = 2000;

/** Opens an address with whatever the desktop has for it; false where there is no desktop, or it does not. */
export async function openOnDesktop(address: string): Promise<boolean> {
  const { platform, env } = process;
  if (OPENERS[platform] === undefined && !env["DISPLAY"] && !env["WAYLAND_DISPLAY"]) return false;
  const [program, ...before] = OPENERS[platform] ?? ["xdg-open"];
  const child = spawn(program!, [...before, address], { stdio: "ignore", detached: true });
  const refused = new Promise<boolean>((resolve) => {
    child.once("error", () => resolve(false));
    child.once("exit", (status) => resolve(status === 0 || platform === "win32"));
  });
  const waiting = new AbortController();
  const opening = sleep(PATIENCE, true, { signal: waiting.signal }).catch(() => true);
  const opened = await Promise.race([refused, opening]);
  waiting.abort();
  child.unref();
  return opened;
}
