import { fileURLToPath } from "node:url";
import { main } from "./main.js";

/** `npm start`: the report of the demo, or of the file given. */
const demo = fileURLToPath(new URL("../../scenarios/tidewater-lane.yaml", import.meta.url));
const given = process.argv.slice(2);
process.exitCode = await main(["report", ...(given.length > 0 ? given : [demo])]);
