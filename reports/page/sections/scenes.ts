import { eachSpell, type SceneRecord } from "../../../sim/engine/record.js";
import { mostShown } from "../../../sim/figures/mostshown.js";
import { tellingScenes } from "../../../sim/figures/telling.js";
import { formatClock } from "../../../sim/units/clock.js";
import { percent, plain } from "../../../sim/units/text.js";
import { drawStill, stillGround } from "../../pictures/still.js";
import { counted } from "../../words.js";
import { html, type Html } from "../html.js";
import type { Album, MakeSection, ReportInput } from "../section.js";
import { DAY, HOUR, type Micros } from "../../../sim/units/time.js";

/** Where there are no more scenes than this, all of them are shown. */
const ALL = 12;
/** Pictures of one opening, an equal time apart. */
const HOURS = 9;

/** One picture: a scene, what is said of it, and the time of day of its sky. */
interface Still {
  readonly scene: number;
  readonly caption: string;
  readonly detail: string;
  readonly time: Micros;
}

/** What the display looks like: every scene where they are few; else the extremes, a typical one, and one an hour. */
export const scenes: MakeSection = (input, album) => {
  const { record } = input;
  if (record.scenes.length <= ALL) {
    const stills = mostShown(record, ALL).map(({ scene, share }, i) => still(input, scene, `${percent(share)} of the open time`, ORDER[i]));
    return {
      id: "scenes",
      heading: stills.length === 1 ? "The one scene that is shown" : `The ${stills.length} scenes that are shown`,
      body: strip(stills, input, album, "scene"),
    };
  }
  const { brightest, darkest, typical, typicalDifference } = tellingScenes(record, input.figures.houses);
  const telling = [
    still(input, brightest, "at its brightest"),
    still(input, typical, "most typical", `${counted(Number(plain(typicalDifference, 2)), "house")} away from a random moment`),
    still(input, darkest, "at its darkest"),
  ];
  return {
    id: "scenes",
    heading: "What it looks like",
    body: html`<p>Three scenes that tell, and one opening (number ${input.day}) at equal distances.</p>
${strip(telling, input, album, "scene")}${strip(byTheHour(input), input, album, "hour")}`,
  };
};

const ORDER = ["shown most"];

function still({ record, scenario: { houses, opening } }: ReportInput, scene: number, caption: string, detail?: string): Still {
  const lit = record.scenes.lit(scene).length;
  const words = lit === 0 ? "nothing lit" : `${lit} of ${houses.length} lit`;
  const time = opening.from + (opening.until - opening.from) / 2;
  return { scene, caption, detail: detail === undefined ? words : `${words}; ${detail}`, time };
}

/** Pictures of an opening an equal number of hours apart, the first at its beginning. */
function byTheHour({ record, day, scenario: { houses } }: ReportInput): Still[] {
  const { from, until } = record.openings[day - 1]!;
  const apart = Math.max(1, Math.ceil((until - from) / HOUR / HOURS)) * HOUR;
  const stills: Still[] = [];
  eachSpell({ ...record, openings: [record.openings[day - 1]!] }, (scene, start, end) => {
    for (let k = Math.ceil((start - from) / apart); from + k * apart < end; k++) {
      const time = (from + k * apart) % DAY;
      stills.push({ scene, caption: formatClock(time), detail: `${record.scenes.lit(scene).length} of ${houses.length} lit`, time });
    }
  });
  return stills;
}

function strip(stills: readonly Still[], { scenario, record, photo }: ReportInput, album: Album, name: string): Html {
  const ground = stillGround(scenario.houses, photo);
  const figures = stills.map(({ scene, caption, detail, time }, i) => {
    const id = `${name}-${i + 1}`;
    const lit = drawn(record, scene, ground.scenery.buildings.length);
    const svg = drawStill(album.document, ground, { id, title: `${caption}: ${detail}`, lit, time });
    return html`<figure>${album.picture(id, svg)}<figcaption><strong>${caption}</strong><br>${detail}</figcaption></figure>\n`;
  });
  return html`<div class="stills">\n${figures}</div>\n`;
}

/** The lit houses among those that are drawn. */
function drawn({ scenes: all }: SceneRecord, scene: number, limit: number): number[] {
  return all.lit(scene).filter((house) => house < limit);
}
