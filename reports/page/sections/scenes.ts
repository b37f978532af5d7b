import { mostShown } from "../../../sim/figures/mostshown.js";
import { percent } from "../../../sim/units/text.js";
import { planDisplay } from "../../pictures/plan.js";
import { drawStill } from "../../pictures/still.js";
import { html } from "../html.js";
import type { MakeSection } from "../section.js";

const STILLS = 8;

/** The scenes that are shown longest, as small pictures. */
export const scenes: MakeSection = ({ scenario, record, figures }, album) => {
  const plan = planDisplay(scenario, figures.houses.map(({ litShare }) => percent(litShare)));
  const stills = mostShown(record, STILLS).map(({ scene, share }, i) =>
    album.picture(
      `scene-${i + 1}`,
      drawStill(album.document, plan, { rank: i + 1, lit: record.scenes.lit(scene), houses: scenario.houses.length, share }),
    ),
  );
  return {
    id: "scenes",
    heading: stills.length === 1 ? "The one scene that is shown" : `The ${stills.length} scenes shown most`,
    body: html`<div class="stills">\n${stills.map((still) => html`<figure>${still}</figure>\n`)}</div>\n`,
  };
};
