import { copyFile, rm } from "node:fs/promises";
import { join } from "node:path";
import { main } from "./main.js";
import { processIo } from "./output/io.js";
import { shippedFile } from "./output/shipped.js";

/** `npm run build`: the live page with the demo in it, as one file for people who install nothing. */
const made = shippedFile("dist/standalone");
process.exitCode = await main(["report", shippedFile("scenarios/tidewater-lane.yaml"), "--builds", "0", "-o", made], processIo());
await copyFile(join(made, "index.html"), shippedFile("dist/lampdrift.html"));
await rm(made, { recursive: true });
