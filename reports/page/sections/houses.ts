import { drawLitAtOnce } from "../../pictures/lit-at-once.js";
import { drawLitShares } from "../../pictures/lit-shares.js";
import { html } from "../html.js";
import type { MakeSection } from "../section.js";

/** How long each house is lit. */
export const litHouses: MakeSection = ({ scenario, figures }, album) => ({
  id: "houses",
  heading: "How long each house is lit",
  body: html`${album.sheets("lit-houses", drawLitShares(album.document, scenario, figures, album.width))}`,
});

/** How many houses are lit at once. */
export const litAtOnce: MakeSection = ({ figures }, album) => ({
  id: "lit",
  heading: "How many houses are lit at once",
  body: album.fitting("lit-at-once", drawLitAtOnce(album.document, figures, album.width)),
});
