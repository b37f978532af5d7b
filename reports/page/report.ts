import { basename } from "node:path";
import { canvas } from "../pictures/canvas.js";
import { FileAlbum } from "./album.js";
import { housesCsv, scenesCsv } from "./csv.js";
import { verdictsOf } from "../verdicts.js";
import { page } from "./page.js";
import type { ReportInput } from "./section.js";
import { SECTIONS } from "./sections.js";

export type { ReportInput } from "./section.js";

/** The committee's report: file name → content. The same input gives the same bytes. A table of scenes too long for anybody is left out. */
export function buildReport(report: ReportInput): Map<string, string> {
  // where the file lies on somebody's machine is nobody's business
  const scenario = { ...report.scenario, file: basename(report.scenario.file) };
  const input = { ...report, scenario };
  const album = new FileAlbum(canvas(), report.photo);
  const sections = Object.values(SECTIONS).flatMap((make) => make(input, album) ?? []);
  const said = [input.by ?? [], input.dated ?? []].flat().map((one) => `, ${one}`).join("");
  const made = `Report of lampdrift ${input.version} on ${scenario.file}, seed “${scenario.seed}”${said}`;
  const scenes = scenesCsv(input.record);
  return new Map([
    ["index.html", page({ title: scenario.title, made, verdicts: verdictsOf(input), sections, photo: input.photo, live: input.live })],
    ...album.files,
    ...(scenes === null ? [] : [["scenes.csv", scenes] as const]),
    ["houses.csv", housesCsv(input.record, input.figures)],
  ]);
}
