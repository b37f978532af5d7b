import { canvas } from "../pictures/canvas.js";
import { housesCsv, scenesCsv } from "./csv.js";
import { page } from "./page.js";
import { Album, type MakeSection, type ReportInput } from "./section.js";
import { assumed } from "./sections/assumed.js";
import { boards } from "./sections/boards.js";
import { cards } from "./sections/cards.js";
import { cautions } from "./sections/cautions.js";
import { display } from "./sections/display.js";
import { found } from "./sections/found.js";
import { litAtOnce, litHouses } from "./sections/houses.js";
import { advice, repeats, why } from "./sections/repeats.js";
import { scenes } from "./sections/scenes.js";
import { spread } from "./sections/spread.js";
import { timeline } from "./sections/timeline.js";
import { promises, ratings } from "./sections/verdicts.js";

export type { ReportInput } from "./section.js";

/** The parts of the committee's report, in order. */
const SECTIONS: readonly MakeSection[] = [
  found,
  display,
  timeline,
  scenes,
  litHouses,
  litAtOnce,
  repeats,
  why,
  advice,
  promises,
  spread,
  ratings,
  boards,
  cards,
  assumed,
  cautions,
];

/** The committee's report: file name → content. The same input gives the same bytes. */
export async function buildReport(input: ReportInput): Promise<Map<string, string>> {
  const album = new Album(await canvas());
  const sections = SECTIONS.flatMap((make) => make(input, album) ?? []);
  const { title, file } = input.scenario;
  const made = `Report of lampdrift ${input.version} on ${file}, seed “${input.scenario.seed}”`;
  return new Map([
    ["index.html", page({ title, made, sections, live: input.live })],
    ...album.files,
    ["scenes.csv", scenesCsv(input.record)],
    ["houses.csv", housesCsv(input.record, input.figures)],
  ]);
}
