import { houseName } from "../../sim/model/housename.js";
import { spokenDuration } from "../../sim/units/text.js";
import { BoardSteps } from "./boardsteps.js";
import { photoOf, shownOf, type Computed } from "./computed.js";
import { DayLine } from "./dayline.js";
import { button, choice, element, fill, still } from "./dom.js";
import { keyList, listenForKeys, playerKeys } from "./keys.js";
import { linkTo, momentInLink } from "./link.js";
import { Ground } from "./ground.js";
import { instantOf, midnightOf, sceneAt, within, type Moment } from "./moments.js";
import { playhead } from "./playhead.js";
import { movingHouses } from "./moving.js";
import { NightPicture } from "./picture.js";
import { pick, play, proceed, setSpeed, showNames, type State } from "./state.js";
import type { MakePanel } from "./store.js";
import { clockText, litText, openingText } from "./momenttext.js";
import { SECOND, toMicros, toSeconds } from "../../sim/units/time.js";

const SPEEDS = [1, 10, 60, 120, 300, 600, 1000, 2000];
/** A longer pause between two pictures is none of the display's time: the page was out of sight. */
const LONGEST_FRAME = 0.25;
/** While it plays, words and boards follow the picture so often, milliseconds: whoever reads them needs no more. */
const WORDS_EVERY = 50;

/** A scene, and of which run. */
interface Scene {
  readonly of: Computed;
  readonly scene: number;
  readonly lit: readonly number[];
}

/** The display as a moving picture, with everything that moves it. */
export const player: MakePanel = (root, store) => {
  // ---- what it consists of ----
  const canvas = element("canvas", { role: "img", "aria-label": "Display", "aria-describedby": "display-lit", tabindex: "0" });
  const lit = element("p", { id: "display-lit", hidden: "" });
  const clock = element("span", { class: "clock" });
  const day = element("span", { class: "day" });
  const count = element("span", { class: "count" });
  const status = element("p", { class: "status", role: "status" });
  const slider = element("input", { type: "range", step: "any", "aria-label": "Time of day" });
  const line = new DayLine();
  const boards = new BoardSteps();
  const picture = new NightPicture(canvas);
  const playing = button("Play", () => head.togglePlaying());
  playing.classList.add("main");
  const next = button("Next change", () => head.leap(1));
  const again = button("When does this very picture come back?", () => head.findAgain());
  const names = button("Names", () => store.update(showNames(!store.state.names)));
  const link = button("Link to this moment", () => showLink());
  const help = button("?", () => keysShown.showModal());
  help.setAttribute("aria-label", "Keys");
  help.className = "third";
  link.className = "most";
  again.className = "across";
  const opening = choice("Opening", []);
  const speed = choice("Speed", SPEEDS.map((times) => [String(times), speedText(times)]));
  const house = choice("Follow a house", []);
  house.field.classList.add("across");

  // ---- moments ----
  let shown: Computed | null = shownOf(store.state);
  const moment = (): Moment => ({ opening: store.state.opening, time: store.state.time });
  const say = (text: string): void => void (status.textContent = text);
  const head = playhead(store, () => shown, say);
  const showLink = (): void => {
    history.replaceState(null, "", linkTo(moment()));
    say("The address of this page now leads to this moment. Copy it from the address bar.");
  };

  // ---- keys ----
  const keys = playerKeys(head, store, () => keysShown.showModal());
  const keysShown = keyList(keys);

  // ---- the page ----
  root.replaceChildren(
    element(
      "div",
      { class: "screen" },
      element("div", { class: "stage" }, canvas, lit, element("p", { class: "when", "aria-hidden": "true" }, clock, day, count)),
      element("div", { class: "timeline" }, line.strip, slider),
      element("div", { class: "controls" }, playing, next, again, link, help),
      element("div", { class: "controls" }, opening.field, speed.field, house.field, names, movingHouses(canvas, picture, () => shown?.scenario.houses ?? [], store)),
      line.words,
      status,
    ),
    boards.list,
    keysShown,
  );
  listenForKeys(root, canvas, keys);

  slider.addEventListener("input", () => shown !== null && head.lookAt({ opening: store.state.opening, time: toMicros(slider.valueAsNumber) }));
  slider.addEventListener("keydown", (event) => {
    const way = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 60, PageDown: -60 }[event.key];
    if (way === undefined) return;
    event.preventDefault();
    head.lookAt({ opening: store.state.opening, time: store.state.time + way * (event.shiftKey ? SECOND : 10 * SECOND) });
  });
  opening.select.addEventListener("change", () => head.toOpening(Number(opening.select.value)));
  speed.select.addEventListener("change", () => store.update(setSpeed(Number(speed.select.value))));
  house.select.addEventListener("change", () => store.update(pick(house.select.value || null)));
  const hover = (over: number): void => {
    picture.hover(over);
    wake();
  };
  canvas.addEventListener("pointermove", (event) => hover(picture.houseAt(event.offsetX, event.offsetY)));
  canvas.addEventListener("pointerleave", () => hover(-1));
  canvas.addEventListener("click", (event) => {
    const id = shown?.scenario.houses[picture.houseAt(event.offsetX, event.offsetY)]?.id ?? null;
    store.update(pick(id === store.state.pickedHouse ? null : id));
  });
  let width = 0;
  new ResizeObserver(() => {
    if (canvas.clientWidth === width) return;
    width = canvas.clientWidth;
    picture.fit();
    wake();
  }).observe(canvas);

  // ---- what is shown ----
  const showOpening = (): void => {
    if (shown === null) return;
    const k = within(shown.record, moment()).opening;
    const { from, until } = shown.record.openings[k]!;
    const midnight = midnightOf(shown.record, k);
    slider.min = String(toSeconds(from - midnight));
    slider.max = String(toSeconds(until - midnight - 1));
    opening.select.value = String(k);
    day.textContent = openingText(shown.record, k);
    line.showChanges(shown.record, k);
    showLight();
    showMoment();
  };
  const showLight = (): void => {
    if (shown !== null) line.showLight(shown.record, store.state.opening, pickedNumber(shown, store.state));
  };
  /** The scenes that are painted and told, and when that was told. */
  let painted: Scene | null = null;
  let told: Scene | null = null;
  let toldAt = 0;
  const showMoment = (): void => {
    if (shown === null) return;
    const at = within(shown.record, moment());
    const scene = sceneAt(shown.record, at);
    if (painted?.of !== shown || painted.scene !== scene) painted = { of: shown, scene, lit: shown.record.scenes.lit(scene) };
    picture.see({ lit: painted.lit, time: at.time, names: store.state.names, picked: pickedNumber(shown, store.state) });
    wake();
    if (!store.state.playing || performance.now() - toldAt >= WORDS_EVERY) tell(shown, at, painted);
  };
  const tell = ({ record, scenario }: Computed, at: Moment, scene: Scene): void => {
    toldAt = performance.now();
    slider.value = String(toSeconds(at.time));
    const text = clockText(at.time);
    if (clock.textContent !== text) {
      clock.textContent = text;
      slider.setAttribute("aria-valuetext", text);
    }
    if (told !== scene) {
      told = scene;
      lit.textContent = litText(record, at);
      count.textContent = `${scene.lit.length} of ${scenario.houses.length} lit`;
    }
    boards.at(instantOf(record, at), store.state.playing);
  };
  // ---- time passes ----
  let before: number | null = null;
  let awake = false;
  const wake = (): void => {
    if (awake) return;
    awake = true;
    before = null;
    requestAnimationFrame(frame);
  };
  const frame = (now: number): void => {
    const seconds = before === null ? 0 : Math.min(LONGEST_FRAME, (now - before) / 1000);
    before = now;
    if (store.state.playing) head.pass(seconds);
    const fading = picture.paint(still.matches ? Infinity : seconds);
    awake = store.state.playing || fading;
    if (awake) requestAnimationFrame(frame);
  };

  // ---- following the state ----
  const showGround = (): void => {
    ground.lay(photoOf(store.state));
    if (shown !== null) picture.show(shown.scenario.houses, ground.painted);
    wake();
  };
  const ground = new Ground(say, showGround);
  store.watch(photoOf, showGround);
  store.watch(shownOf, (computed) => {
    shown = computed;
    if (shown === null) return;
    const { record, scenario } = shown;
    fill(opening.select, record.openings.map((_, k) => [String(k), openingText(record, k)]));
    fill(house.select, [["", "none"], ...scenario.houses.map(({ id }, h) => [id, houseName(scenario, h)] as const)]);
    house.select.value = store.state.pickedHouse ?? "";
    boards.show(record);
    showGround();
    const { opening: k, time } = within(record, moment());
    store.update(proceed(k, time));
    showOpening();
  });
  store.watch(({ opening: k }) => k, showOpening);
  store.watch(({ time }) => time, showMoment);
  store.watch(({ pickedHouse }) => pickedHouse, (id) => {
    house.select.value = id ?? "";
    showLight();
    showMoment();
  });
  store.watch(({ names: on }) => on, (on) => {
    names.setAttribute("aria-pressed", String(on));
    showMoment();
  });
  store.watch(({ speed: times }) => times, (times) => (speed.select.value = String(times)));
  store.watch(({ playing: on }) => on, (on) => {
    playing.textContent = on ? "Pause" : "Play";
    playing.classList.toggle("on", on);
    showMoment();
  });

  // ---- the beginning ----
  const follow = (): boolean => {
    const linked = momentInLink(location.hash);
    if (linked !== null) head.lookAt(linked);
    return linked !== null;
  };
  addEventListener("hashchange", follow);
  if (!follow()) {
    if (shown !== null) store.update(proceed(store.state.opening, within(shown.record, { ...moment(), time: 0 }).time));
    store.update(play(!still.matches));
  }
};

function pickedNumber({ scenario }: Computed, { pickedHouse }: State): number {
  return scenario.houses.findIndex(({ id }) => id === pickedHouse);
}

function speedText(times: number): string {
  const text = `${times.toLocaleString("en")}×`;
  return times < 60 ? text : `${text}, ${spokenDuration(times)} a second`;
}
