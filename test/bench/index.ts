import { cpus } from "node:os";
import { benchCommands } from "./commands.js";
import { benchEngine } from "./engine.js";

console.log(`node ${process.version}, ${cpus().length} × ${cpus()[0]?.model.trim() ?? "unknown processor"}; medians, warm unless said`);
benchEngine();
benchCommands();
