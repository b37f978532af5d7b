import { InputError } from "../../sim/errors.js";
import type { House } from "../../sim/model/scenario.js";
import { withHouseAt } from "../../sim/scenario/moved.js";
import { button, element } from "./dom.js";
import type { NightPicture } from "./picture.js";
import { edit } from "./state.js";
import type { Store } from "./store.js";

type Point = readonly [number, number];

/**
 * A switch that lets houses be dragged to other places of the picture; where one is let go, its `at` is written into the
 * text, and everything else stays as it stands there.
 */
export function movingHouses(canvas: HTMLCanvasElement, picture: NightPicture, houses: () => readonly House[], store: Store): HTMLElement {
  const said = element("span", { role: "status" });
  const on = button("Move houses", () => {
    const moving = on.getAttribute("aria-pressed") !== "true";
    on.setAttribute("aria-pressed", String(moving));
    canvas.style.touchAction = moving ? "none" : "";
    said.textContent = moving ? "Drag a house to another place." : "";
  });
  on.setAttribute("aria-pressed", "false");
  let dragged = -1;
  let from: Point = [0, 0];
  const start = (event: PointerEvent): void => {
    if (on.getAttribute("aria-pressed") !== "true") return;
    dragged = picture.houseAt(event.offsetX, event.offsetY);
    if (dragged < 0) return;
    from = [event.offsetX, event.offsetY];
    canvas.setPointerCapture(event.pointerId);
  };
  const end = (event: PointerEvent): void => {
    const house = houses()[dragged];
    dragged = -1;
    if (house === undefined) return;
    const moved: Point = [event.offsetX - from[0], event.offsetY - from[1]];
    if (Math.hypot(...moved) < 3) return;
    const at = placeOf(picture.spots(), houses(), house, moved);
    try {
      store.update(edit(withHouseAt(store.state.text, store.state.planned[0].file, house.id, at)));
      said.textContent = `${house.name} is at [${at.join(", ")}] now; the text says so too.`;
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      said.textContent = error.message;
    }
  };
  canvas.addEventListener("pointerdown", start);
  canvas.addEventListener("pointerup", end);
  canvas.addEventListener("pointercancel", () => (dragged = -1));
  // what ends a drag is no choice of a house
  canvas.addEventListener("click", (event) => on.getAttribute("aria-pressed") === "true" && event.stopImmediatePropagation(), { capture: true });
  return element("span", {}, on, said);
}

/** Where a house is after it was moved by so many pixels: the picture is taken for a linear map of the places. */
function placeOf(spots: readonly Point[], houses: readonly House[], house: House, moved: Point): [number, number] {
  const placed = houses.flatMap(({ at }, i) => (at === null ? [] : [[at, spots[i]!] as const]));
  const own = spots[houses.indexOf(house)]!;
  return [0, 1].map((axis) => {
    const [a, p] = [placed.map(([at]) => at[axis]!), placed.map(([, spot]) => spot[axis]!)];
    const [meanA, meanP] = [mean(a), mean(p)];
    const spread = p.reduce((sum, one) => sum + (one - meanP) ** 2, 0);
    const perPixel = spread === 0 ? 1 : p.reduce((sum, one, i) => sum + (one - meanP) * (a[i]! - meanA), 0) / spread || 1;
    const now = house.at === null ? meanA + perPixel * (own[axis]! - meanP) : house.at[axis]!;
    return Math.round(now + perPixel * moved[axis]!);
  }) as [number, number];
}

function mean(values: readonly number[]): number {
  return values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length;
}
