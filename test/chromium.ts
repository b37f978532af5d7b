import { existsSync } from "node:fs";
import { chromium, type BrowserServer } from "playwright-core";

/** Where Debian puts it; the one without windows draws the same in a fifth less time. */
const DEBIANS = ["/usr/bin/chromium-headless-shell", "/usr/bin/chromium"];

/** The browser that tests use; elsewhere the environment says where it is. */
const chromiumPath = process.env["CHROMIUM"] ?? DEBIANS.find((path) => existsSync(path)) ?? DEBIANS.at(-1)!;

/** Why browser tests are left out; on CI a missing browser is a failure, not a reason. */
export const noBrowser: string | false =
  existsSync(chromiumPath) || process.env["CI"] !== undefined
    ? false
    : `there is no ${chromiumPath} here; install Debian's chromium, or say in CHROMIUM where it is`;

/** Starts a browser that several processes can connect to; whoever starts it ends it. */
export function startChromium(): Promise<BrowserServer> {
  return chromium.launchServer({
    executablePath: chromiumPath,
    args: ["--no-sandbox", "--headless", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
  });
}
