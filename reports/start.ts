import { main } from "./main.js";
import { processIo } from "./output/io.js";
import { shippedFile } from "./output/shipped.js";

/**
 * `npm start`: the report of the demo and its cards, and where the page is that needs no installation; with arguments,
 * a report as they say.
 */
const demo = shippedFile("scenarios/tidewater-lane.yaml");
const given = process.argv.slice(2);
const io = processIo();
if (given.length > 0) process.exitCode = await main(["report", ...given], io);
else {
  process.exitCode = (await main(["report", demo], io)) || (await main(["cards", demo], io));
  io.stderr.write(`the page for people who install nothing: ${shippedFile("dist/lampdrift.html")}\n`);
}
