import type { House } from "../../sim/model/scenario.js";
import { drawnGroups, groupHeading } from "./groups.js";

/** Height of one row of a picture that has a row for each house. */
export const ROW_HEIGHT = 18;
/** Rows of one sheet: what a printed page holds. */
const MOST_ROWS = 44;

export type SheetRow =
  | { readonly kind: "heading"; readonly text: string }
  | { readonly kind: "house"; readonly house: number }
  | { readonly kind: "board"; readonly board: number };

/** A row for each house under the name of its zone, then one for each board, on as many sheets as they need. */
export function rowSheets(houses: readonly House[], boards: number): SheetRow[][] {
  const groups = drawnGroups(houses);
  const sections: { heading: string | null; rows: SheetRow[] }[] = groups.map((group) => ({
    heading: groupHeading(group, groups),
    rows: group.houses.map((house): SheetRow => ({ kind: "house", house })),
  }));
  if (boards > 0) {
    sections.push({ heading: "Boards", rows: Array.from({ length: boards }, (_, board): SheetRow => ({ kind: "board", board })) });
  }
  const sheets: SheetRow[][] = [[]];
  for (const { heading, rows } of sections) {
    rows.forEach((row, i) => {
      const full = sheets.at(-1)!.length + (i === 0 && heading !== null ? 2 : 1) > MOST_ROWS;
      if (full) sheets.push([]);
      // a heading stands again where its rows go on
      if (heading !== null && (full || i === 0)) sheets.at(-1)!.push({ kind: "heading", text: heading });
      sheets.at(-1)!.push(row);
    });
  }
  return sheets;
}

/** " (part 2 of 3)"; nothing when there is one sheet. */
export function partOf(sheet: number, sheets: number): string {
  return sheets === 1 ? "" : ` (part ${sheet + 1} of ${sheets})`;
}
