import { canvas } from "../pictures/canvas.js";
import { FileAlbum } from "./album.js";
import { housesCsv, scenesCsv } from "./csv.js";
import { page } from "./page.js";
import type { ReportInput } from "./section.js";
import { SECTIONS } from "./sections.js";

export type { ReportInput } from "./section.js";

/** The committee's report: file name → content. The same input gives the same bytes. */
export async function buildReport(input: ReportInput): Promise<Map<string, string>> {
  const album = new FileAlbum(await canvas());
  const sections = Object.values(SECTIONS).flatMap((make) => make(input, album) ?? []);
  const { title, file } = input.scenario;
  const made = `Report of lampdrift ${input.version} on ${file}, seed “${input.scenario.seed}”`;
  return new Map([
    ["index.html", page({ title, made, sections, live: input.live })],
    ...album.files,
    ["scenes.csv", scenesCsv(input.record)],
    ["houses.csv", housesCsv(input.record, input.figures)],
  ]);
}
