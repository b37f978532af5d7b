import { houseNames } from "../../sim/model/housename.js";
import type { House } from "../../sim/model/scenario.js";
import { textWidth } from "../pictures/text.js";
import { DUSK, DUSK_SHARE } from "../pictures/photo.js";
import { fitted, layOnPhoto, layOut, type Scenery } from "../pictures/scenery.js";
import { makeGlow, paintLamp, paintLand, paintLight, paintRing, paintSky } from "./village.js";
import { MINUTE, type Micros } from "../../sim/units/time.js";

/** Seconds that a lamp takes to come and go in the picture, at most. */
const FADE = 0.3;
/** How long the sky stays as it was painted. */
const SKY_EVERY: Micros = 2 * MINUTE;
const NAME_SIZE = 13;

/** What the picture shows at one moment. */
export interface Seen {
  /** Houses lit, by number. */
  readonly lit: readonly number[];
  /** Time of day. */
  readonly time: Micros;
  readonly names: boolean;
  /** Number of the house that is picked; −1: none. */
  readonly picked: number;
}

/** A picture of the display, loaded: its size is that of the file, whatever the browser makes of a drawing. */
export interface Painted {
  readonly image: HTMLImageElement;
  readonly width: number;
  readonly height: number;
}

/** The display as a moving picture on a canvas. It paints only when something has changed. */
export class NightPicture {
  private houses: readonly House[] = [];
  private names: readonly string[] = [];
  private photo: Painted | null = null;
  private scenery: Scenery = { width: 0, height: 0, buildings: [], hills: [] };
  private levels = new Float32Array(0);
  private targets = new Uint8Array(0);
  private seen: Seen = { lit: [], time: 0, names: false, picked: -1 };
  private hovered = -1;
  private carried: { readonly house: number; readonly by: readonly [number, number] } | null = null;
  private readonly glow = makeGlow();
  private readonly land = document.createElement("canvas");
  /** The land under the sky of `skyTime`. */
  private readonly sky = document.createElement("canvas");
  private skyTime = NaN;
  private stale = true;

  constructor(private readonly canvas: HTMLCanvasElement) {}

  /** Another display, or the same with other places; `photo`: a picture of it, in whose pixels the places are. */
  show(houses: readonly House[], photo: Painted | null): void {
    // a knob that turns moves no house
    if (houses === this.houses && photo === this.photo) return;
    this.houses = houses;
    this.names = houseNames({ houses });
    this.photo = photo;
    if (this.levels.length !== houses.length) {
      this.levels = new Float32Array(houses.length);
      this.targets = new Uint8Array(houses.length);
    }
    this.fit();
  }

  /** Height for a width: that of the photo, or what a village needs. */
  private heightFor(width: number): number {
    if (this.photo !== null) return Math.round(Math.min(1.4, this.photo.height / this.photo.width) * width);
    const crowded = Math.min(1, this.houses.length / 200);
    return Math.round(width * (width < 520 ? 0.86 + 0.5 * crowded : 0.54 + 0.2 * crowded));
  }

  /** Lays everything out for the size that the canvas has in the page. */
  fit(): void {
    const width = Math.max(200, this.canvas.clientWidth);
    const height = this.heightFor(width);
    const scale = Math.min(2, devicePixelRatio || 1);
    for (const one of [this.canvas, this.land, this.sky]) {
      one.width = width * scale;
      one.height = height * scale;
      one.getContext("2d")!.setTransform(scale, 0, 0, scale, 0, 0);
    }
    this.canvas.style.height = `${height}px`;
    this.scenery = this.photo === null ? layOut(this.houses, width, height) : layOnPhoto(this.houses, this.photo, width, height);
    const land = this.land.getContext("2d")!;
    if (this.photo === null) paintLand(land, this.scenery);
    else paintDusk(land, this.photo, width, height);
    this.skyTime = NaN;
    this.stale = true;
  }

  see(seen: Seen): void {
    const { names, picked, lit } = this.seen;
    if (seen.lit !== lit) {
      this.targets.fill(0);
      for (const house of seen.lit) this.targets[house] = 1;
    }
    if (seen.lit !== lit || seen.names !== names || seen.picked !== picked || skyTimeOf(seen) !== this.skyTime) this.stale = true;
    this.seen = seen;
  }

  /**
   * Paints what has changed. `seconds`: since the last time; Infinity: lamps are at once what they are to be. True:
   * there is more to come.
   */
  paint(seconds: number): boolean {
    let fading = false;
    for (let house = 0; house < this.levels.length; house++) {
      const [level, target] = [this.levels[house]!, this.targets[house]!];
      if (level === target) continue;
      fading = true;
      const most = seconds / FADE;
      this.levels[house] = Math.abs(target - level) <= most ? target : level + Math.sign(target - level) * most;
    }
    if (!fading && !this.stale) return false;
    this.stale = false;
    this.paintAll();
    return fading;
  }

  private paintAll(): void {
    const to = this.canvas.getContext("2d")!;
    const { width, height, buildings } = this.scenery;
    if (this.photo === null) {
      const time = skyTimeOf(this.seen);
      if (time !== this.skyTime) {
        const sky = this.sky.getContext("2d")!;
        paintSky(sky, width, height, time);
        sky.drawImage(this.land, 0, 0, width, height);
      }
      this.skyTime = time;
    }
    to.drawImage(this.photo === null ? this.sky : this.land, 0, 0, width, height);
    for (let house = 0; house < buildings.length; house++) {
      const level = this.levels[house]!;
      const building = buildings[house]!;
      if (this.photo !== null) {
        if (level < 1) paintRing(to, building.x, building.y, building.width);
        if (level > 0) paintLamp(to, building.x, building.y, building.width, this.glow, level);
      } else if (level > 0) paintLight(to, building, this.glow, level);
    }
    this.paintNames(to);
    if (this.carried === null) return;
    const { house, by } = this.carried;
    const { x, width: wide, wall } = buildings[house]!;
    to.fillStyle = "#ffc857";
    to.globalAlpha = 0.8;
    to.beginPath();
    to.arc(x + by[0], this.footOf(house) + by[1] - wall, Math.max(8, wide / 2), 0, 7);
    to.fill();
    to.globalAlpha = 1;
  }

  private paintNames(to: CanvasRenderingContext2D): void {
    const { buildings, width, height } = this.scenery;
    const wanted = new Set([this.hovered, this.seen.picked].filter((house) => house >= 0 && house < buildings.length));
    for (const house of wanted) {
      const { x, width: wide, wall, roof } = buildings[house]!;
      to.strokeStyle = "#ffc857";
      to.lineWidth = 2;
      to.strokeRect(x - wide * 0.66, this.footOf(house) - wall - roof - 3, wide * 1.32, wall + roof + 6);
    }
    const order = [...wanted, ...(this.seen.names ? buildings.keys() : [])];
    const taken: { x: number; y: number; width: number }[] = [];
    const done = new Set<number>();
    to.font = `${NAME_SIZE}px Arial, "Liberation Sans", Helvetica, sans-serif`;
    to.textBaseline = "alphabetic";
    to.textAlign = "center";
    for (const house of order) {
      if (done.has(house)) continue;
      done.add(house);
      const name = this.names[house]!;
      const { x, wall, roof } = buildings[house]!;
      const y = this.footOf(house);
      const wide = Math.min(textWidth(name, NAME_SIZE), width - 8);
      const left = Math.min(Math.max(4, x - wide / 2), width - wide - 4);
      const lines = [y + NAME_SIZE + 2, y - wall - roof - 6].filter((line) => line > NAME_SIZE && line < height - 3);
      const line = lines.find((at) => taken.every((other) => Math.abs(other.y - at) > NAME_SIZE + 3 || other.x > left + wide + 6 || left > other.x + other.width + 6));
      if (line === undefined) continue;
      taken.push({ x: left, y: line, width: wide });
      to.lineJoin = "round";
      to.lineWidth = 4;
      to.strokeStyle = "rgb(6 10 20 / 0.85)";
      to.strokeText(name, left + wide / 2, line, wide);
      to.fillStyle = wanted.has(house) ? "#ffd98a" : "#eef2f7";
      to.fillText(name, left + wide / 2, line, wide);
    }
  }

  /** On hills a house stands on its place, on a photo its light is in the middle of it. */
  private footOf(house: number): number {
    const { y, wall, roof } = this.scenery.buildings[house]!;
    return this.photo === null ? y : y + (wall + roof) / 2;
  }

  /** Number of the house at a place of the canvas, −1 where there is none. */
  houseAt(x: number, y: number): number {
    let found = -1;
    let least = Infinity;
    this.scenery.buildings.forEach((one, house) => {
      const [dx, dy] = [Math.abs(x - one.x), Math.abs(y - (this.footOf(house) - (one.wall + one.roof) / 2))];
      const far = Math.hypot(dx, dy);
      // as large as a finger
      if (dx < Math.max(14, one.width * 0.7) && dy < Math.max(14, one.wall + one.roof) && far < least) [found, least] = [house, far];
    });
    return found;
  }

  /** Pixels of the page for one of the photo, in which places are then given; null: there is no photo. */
  get photoScale(): number | null {
    return this.photo === null ? null : fitted(this.photo, this.scenery.width, this.scenery.height).scale;
  }

  /** Where each house stands, pixels of the page. */
  spots(): (readonly [number, number])[] {
    return this.scenery.buildings.map(({ x, y }) => [x, y]);
  }

  /** A house on its way to another place, so many pixels from its own. */
  carry(carried: { readonly house: number; readonly by: readonly [number, number] } | null): void {
    this.carried = carried;
    this.stale = true;
  }

  hover(house: number): void {
    if (house === this.hovered) return;
    this.hovered = house;
    this.stale = true;
  }
}

/** The time of day that the sky is painted for. */
function skyTimeOf({ time }: Seen): Micros {
  return Math.round(time / SKY_EVERY) * SKY_EVERY;
}

function paintDusk(to: CanvasRenderingContext2D, photo: Painted, width: number, height: number): void {
  const { scale, left, top } = fitted(photo, width, height);
  to.fillStyle = DUSK;
  to.fillRect(0, 0, width, height);
  to.drawImage(photo.image, left, top, photo.width * scale, photo.height * scale);
  to.globalAlpha = DUSK_SHARE;
  to.fillRect(0, 0, width, height);
  to.globalAlpha = 1;
}

