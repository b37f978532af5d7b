import { cpus } from "node:os";
import { benchCommands } from "./commands.js";
import { benchEngine } from "./engine.js";
import { benchPage } from "./page.js";

console.log(`node ${process.version}, ${cpus().length} × ${cpus()[0]?.model.trim() ?? "unknown processor"}; medians, warm unless said`);
const [only, minutes = "1"] = process.argv.slice(2);
if (only !== "page") {
  benchEngine();
  benchCommands();
}
await benchPage(Number(minutes));
