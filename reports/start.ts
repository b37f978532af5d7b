import { begin } from "./begin.js";

/**
 * `npm start`: the report of the demo and its cards, and where the page is that needs no installation; with arguments,
 * a report as they say.
 */
begin(async (main, io) => {
  const { shippedFile } = await import("./output/shipped.js");
  const demo = shippedFile("scenarios/tidewater-lane.yaml");
  const given = process.argv.slice(2);
  if (given.length > 0) return main(["report", ...given], io);
  const status = (await main(["report", demo], io)) || (await main(["cards", demo], io));
  io.stderr.write(`the page for people who install nothing: ${shippedFile("dist/lampdrift.html")}\n`);
  return status;
});
