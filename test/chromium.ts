import { existsSync } from "node:fs";

/** Where Debian puts it; elsewhere the environment says where. */
export const chromiumPath = process.env["CHROMIUM"] ?? "/usr/bin/chromium";

/** Why browser tests are left out; on CI a missing browser is a failure, not a reason. */
export const noBrowser: string | false =
  existsSync(chromiumPath) || process.env["CI"] !== undefined
    ? false
    : `there is no ${chromiumPath} here; install Debian's chromium, or say in CHROMIUM where it is`;
