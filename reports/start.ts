import { fileURLToPath } from "node:url";
import { main } from "./main.js";

/** `npm start`: the report of the demo and its cards; with arguments, a report as they say. */
const demo = fileURLToPath(new URL("../../scenarios/tidewater-lane.yaml", import.meta.url));
const given = process.argv.slice(2);
if (given.length > 0) process.exitCode = await main(["report", ...given]);
else process.exitCode = (await main(["report", demo])) || (await main(["cards", demo]));
