import { percent } from "../../../sim/units/text.js";
import { drawKeys } from "../../pictures/display-key.js";
import { drawDisplay } from "../../pictures/display.js";
import { planDisplay } from "../../pictures/plan.js";
import { html } from "../html.js";
import type { MakeSection } from "../section.js";

/** The display, each house shaded by how long it is lit. */
export const display: MakeSection = ({ scenario, figures }, album) => {
  const plan = planDisplay(scenario, figures.houses.map(({ litShare }) => percent(litShare)), album.width);
  const keys = plan.labels === null ? drawKeys(album.document, scenario, figures, album.width) : [];
  const left = scenario.houses.length - plan.spots.length;
  return {
    id: "display",
    heading: "The display",
    body: html`${album.fitting("display", drawDisplay(album.document, scenario, figures, plan))}${album.sheets("display-key", keys)}${
      left > 0 ? html`<p>${left} more houses are not drawn here; they are in the tables.</p>\n` : html``
    }`,
  };
};
