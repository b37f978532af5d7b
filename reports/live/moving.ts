import { InputError } from "../../sim/errors.js";
import { houseName } from "../../sim/model/housename.js";
import type { House } from "../../sim/model/scenario.js";
import { withHouseAt } from "../../sim/scenario/moved.js";
import { button, element } from "./dom.js";
import type { NightPicture } from "./picture.js";
import { edit, pick } from "./state.js";
import type { Store } from "./store.js";

type Point = readonly [number, number];

/** Pixels that an arrow key moves a house, about; with Shift ten times as many. */
const NUDGE = 3;
/** A pointer that moves less than this taps, pixels. */
const TAP = 4;
const ARROWS: Readonly<Record<string, Point>> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

const HOW =
  "Drag a house to another place. Or choose it, by a tap or under “Follow a house”, and tap where it is to stand, or move it by the " +
  "arrow keys with the display in focus (Shift: further).";

/**
 * A switch that lets houses be moved to other places of the picture, by drag, by two taps, or by keys; where one is put down,
 * its `at` is written into the text, and everything else stays as it stands there.
 */
export function movingHouses(canvas: HTMLCanvasElement, picture: NightPicture, houses: () => readonly House[], store: Store): HTMLElement {
  const said = element("span", { role: "status" });
  const isOn = (): boolean => on.getAttribute("aria-pressed") === "true";
  const turn = (moving: boolean): void => {
    on.setAttribute("aria-pressed", String(moving));
    canvas.style.touchAction = moving ? "none" : "";
    said.textContent = moving ? HOW : "";
  };
  const on = button("Move houses", () => turn(!isOn()));
  on.setAttribute("aria-pressed", "false");

  const picked = (): number => houses().findIndex(({ id }) => id === store.state.pickedHouse);
  const putDown = (number: number, moved: Point): void => {
    const house = houses()[number];
    if (house === undefined) return;
    const at = placeOf(picture, houses(), house, moved);
    try {
      store.update(edit(withHouseAt(store.state.text, store.state.planned[0].file, house.id, at)));
      said.textContent = `${houseName({ houses: houses() }, number)} is at [${at.join(", ")}] now; the text says so too.`;
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      said.textContent = error.message;
    }
  };

  // ---- pointers: a finger as well as a mouse ----
  let held: { readonly house: number; readonly from: Point } | null = null;
  const movedBy = ({ offsetX, offsetY }: PointerEvent, [x, y]: Point): Point => [offsetX - x, offsetY - y];
  const letGo = (): void => {
    held = null;
    picture.carry(null);
  };
  canvas.addEventListener("pointerdown", (event) => {
    if (!isOn()) return;
    held = { house: picture.houseAt(event.offsetX, event.offsetY), from: [event.offsetX, event.offsetY] };
    canvas.setPointerCapture(event.pointerId);
  });
  canvas.addEventListener("pointermove", (event) => {
    if (held !== null && held.house >= 0) picture.carry({ house: held.house, by: movedBy(event, held.from) });
  });
  canvas.addEventListener("pointerup", (event) => {
    if (held === null) return;
    const { house, from } = held;
    letGo();
    const moved = movedBy(event, from);
    if (Math.hypot(...moved) >= TAP) putDown(house, moved);
    else if (house >= 0) store.update(pick(houses()[house]!.id));
    else {
      const spot = picture.spots()[picked()];
      if (spot !== undefined) putDown(picked(), movedBy(event, spot));
    }
  });
  canvas.addEventListener("pointercancel", letGo);
  // what ends a drag is no choice of a house
  canvas.addEventListener("click", (event) => isOn() && event.stopImmediatePropagation(), { capture: true });

  // ---- keys ----
  canvas.addEventListener("keydown", (event) => {
    if (!isOn() || event.ctrlKey || event.altKey || event.metaKey) return;
    const way = ARROWS[event.key];
    if (event.key === "Escape") turn(false);
    else if (way === undefined) return;
    else if (picked() < 0) said.textContent = "Choose a house first, under “Follow a house”.";
    else putDown(picked(), [way[0] * NUDGE * (event.shiftKey ? 10 : 1), way[1] * NUDGE * (event.shiftKey ? 10 : 1)]);
    event.preventDefault();
  });
  return element("span", { class: "moving" }, on, said);
}

/** Where a house is after it was moved by so many pixels, at least by one unit: the picture is taken for a linear map of the places. */
function placeOf(picture: NightPicture, houses: readonly House[], house: House, moved: Point): [number, number] {
  const spots = picture.spots();
  const placed = houses.flatMap(({ at }, i) => (at === null ? [] : [[at, spots[i]!] as const]));
  const own = spots[houses.indexOf(house)]!;
  return [0, 1].map((axis) => {
    const [a, p] = [placed.map(([at]) => at[axis]!), placed.map(([, spot]) => spot[axis]!)];
    const [meanA, meanP] = [mean(a), mean(p)];
    const spread = p.reduce((sum, one) => sum + (one - meanP) ** 2, 0);
    const seen = spread === 0 ? 1 : p.reduce((sum, one, i) => sum + (one - meanP) * (a[i]! - meanA), 0) / spread || 1;
    const perPixel = picture.photoScale === null ? seen : 1 / picture.photoScale;
    const now = house.at === null ? meanA + perPixel * (own[axis]! - meanP) : house.at[axis]!;
    const by = perPixel * moved[axis]!;
    return Math.round(now + Math.sign(by) * Math.max(Math.abs(by), Math.abs(moved[axis]!) < 1 ? 0 : 1));
  }) as [number, number];
}

function mean(values: readonly number[]): number {
  return values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length;
}
