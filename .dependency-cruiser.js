import { readFileSync } from "node:fs";

// The room table of DEVELOPERS.md is the list of floors: a room imports only what stands above it there.
const table = readFileSync(new URL("DEVELOPERS.md", import.meta.url), "utf8");
const floors = [...table.matchAll(/^\| `((?:sim|reports)[^`]*)` \|/gm)].map(([, room]) => room);

/** The files of a room: those of a folder, of one file, or (`sim`, `reports`) those that lie in no folder. */
function filesOf(room) {
  if (room.endsWith(".ts")) return `^${room}$`;
  return room.includes("/") ? `^${room}/` : `^${room}/[^/]+[.]ts$`;
}

export default {
  forbidden: [
    { name: "no-circle", severity: "error", from: {}, to: { circular: true } },
    { name: "room-not-in-table", severity: "error", from: { path: "^(sim|reports)/", pathNot: floors.map(filesOf) }, to: {} },
    ...floors.map((room, floor) => ({
      name: `above-${room}`,
      severity: "error",
      from: { path: filesOf(room) },
      to: { path: "^(sim|reports|test)/", pathNot: floors.slice(0, floor + 1).map(filesOf) },
    })),
  ],
  options: { tsPreCompilationDeps: true, tsConfig: { fileName: "tsconfig.json" }, doNotFollow: { path: "node_modules" } },
};
