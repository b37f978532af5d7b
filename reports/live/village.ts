import type { Building, Hill, Scenery } from "../pictures/scenery.js";
import { grainOf } from "../pictures/scenery.js";
import { discAt, skyAt } from "../pictures/sky.js";
import type { Micros } from "../../sim/units/time.js";

/** Painting the parts of the night picture: sky, hills with dark houses, and the light of a lit house. */

const WALLS = ["#1b2536", "#212a38", "#1d2a3b", "#252b3a", "#1a2333"];
const ROOFS = ["#0f1622", "#141a26", "#101a28", "#171b28", "#0e1520"];
const PANES = "#2c3b52";
/** Hills from the farthest to the nearest. */
const FAR = [38, 56, 82];
const NEAR = [11, 18, 28];
/** Trees on each hill. */
const FIRS = 26;

export function paintSky(to: CanvasRenderingContext2D, width: number, height: number, time: Micros): void {
  const { zenith, horizon, stars } = skyAt(time);
  const gradient = to.createLinearGradient(0, 0, 0, height * 0.62);
  gradient.addColorStop(0, zenith);
  gradient.addColorStop(1, horizon);
  to.fillStyle = gradient;
  to.fillRect(0, 0, width, height);
  to.fillStyle = "#ffffff";
  for (let i = 0; i < 90; i++) {
    const [x, y, size] = [grainOf(`x${i}`), grainOf(`y${i * 7}`), grainOf(`s${i * 13}`)];
    to.globalAlpha = stars * (0.25 + 0.75 * size) * (1 - y);
    to.beginPath();
    to.arc(x * width, y * height * 0.5, 0.5 + size * 0.9, 0, 7);
    to.fill();
  }
  to.globalAlpha = 1;
  const { x, height: up, moon } = discAt(time);
  const [cx, cy] = [width * (0.06 + 0.88 * x), height * (0.34 - 0.15 * up)];
  const radius = Math.max(7, Math.min(width, height) * 0.028);
  const halo = to.createRadialGradient(cx, cy, radius * 0.6, cx, cy, radius * 6);
  halo.addColorStop(0, moon ? "rgb(200 215 240 / 0.32)" : "rgb(255 226 170 / 0.34)");
  halo.addColorStop(1, "rgb(255 255 255 / 0)");
  to.fillStyle = halo;
  to.fillRect(cx - radius * 6, cy - radius * 6, radius * 12, radius * 12);
  to.fillStyle = moon ? "#dfe7f4" : "#ffe9bd";
  to.beginPath();
  to.arc(cx, cy, radius, 0, 7);
  to.fill();
}

/** Hills and dark houses: all that does not change, on a clear ground. */
export function paintLand(to: CanvasRenderingContext2D, { hills, buildings, width, height }: Scenery): void {
  hills.forEach((hill, i) => {
    paintHill(to, hill, width, height, hills.length === 1 ? 0.6 : i / (hills.length - 1));
    for (const house of hill.houses) paintDark(to, buildings[house]!);
  });
}

function paintHill(to: CanvasRenderingContext2D, { ridge }: Hill, width: number, height: number, near: number): void {
  const tone = (darker: number): string => `rgb(${FAR.map((far, i) => Math.round((far + (NEAR[i]! - far) * near) * darker)).join(" ")})`;
  const top = Math.min(...ridge.map(([, y]) => y));
  const fill = to.createLinearGradient(0, top, 0, height);
  fill.addColorStop(0, tone(1));
  fill.addColorStop(1, tone(0.6));
  to.fillStyle = fill;
  to.beginPath();
  to.moveTo(ridge[0]![0], height);
  to.lineTo(...ridge[0]!);
  for (let i = 1; i < ridge.length; i++) {
    const [[x1, y1], [x2, y2]] = [ridge[i - 1]!, ridge[i]!];
    const middle = (x1 + x2) / 2;
    to.bezierCurveTo(middle, y1, middle, y2, x2, y2);
  }
  to.lineTo(Math.max(width, ridge.at(-1)![0]), height);
  to.closePath();
  to.fill();
  paintFirs(to, ridge, width, near, tone(0.72));
}

/** Firs along a ridge, in no order, the nearer the larger. */
function paintFirs(to: CanvasRenderingContext2D, ridge: Hill["ridge"], width: number, near: number, tone: string): void {
  const size = width * (0.012 + 0.016 * near);
  to.fillStyle = tone;
  for (let i = 0; i < FIRS; i++) {
    const grain = grainOf(`fir${i}/${ridge.length}/${Math.round(near * 9)}`);
    // in groups, with clearings between them
    const x = ((i + Math.sin(i * 1.9) + grain) / FIRS) * width;
    const after = Math.max(1, ridge.findIndex(([right]) => right >= x));
    const [[x1, y1], [x2, y2]] = [ridge[after - 1]!, ridge[after] ?? ridge.at(-1)!];
    const share = x2 === x1 ? 0 : (x - x1) / (x2 - x1);
    // the ridge is level at its points, and steepest between them
    const foot = y1 + (y2 - y1) * share * share * (3 - 2 * share) + size * 0.3;
    const high = size * (0.9 + 0.8 * grain);
    to.beginPath();
    for (const [up, half] of [[0.1, 0.34], [0.36, 0.27], [0.62, 0.18]] as const) {
      to.moveTo(x - size * half, foot - high * up);
      to.lineTo(x, foot - high * (up + 0.46));
      to.lineTo(x + size * half, foot - high * up);
    }
    to.fill();
  }
}

function outline(to: CanvasRenderingContext2D, { x, y, width, wall, roof }: Building): void {
  to.beginPath();
  to.moveTo(x - width / 2, y);
  to.lineTo(x - width / 2, y - wall);
  to.lineTo(x, y - wall - roof);
  to.lineTo(x + width / 2, y - wall);
  to.lineTo(x + width / 2, y);
  to.closePath();
}

function paintDark(to: CanvasRenderingContext2D, building: Building): void {
  const { x, y, width, wall, roof, chimney, windows, grain } = building;
  const kind = Math.floor(grain * 5);
  to.fillStyle = ROOFS[kind]!;
  if (chimney) to.fillRect(x + width * 0.2, y - wall - roof * 0.92, width * 0.12, roof * 0.6);
  to.fillStyle = WALLS[kind]!;
  outline(to, building);
  to.fill();
  to.fillStyle = ROOFS[kind]!;
  to.beginPath();
  to.moveTo(x - width * 0.57, y - wall + roof * 0.05);
  to.lineTo(x, y - wall - roof);
  to.lineTo(x + width * 0.57, y - wall + roof * 0.05);
  to.lineTo(x + width * 0.5, y - wall + roof * 0.16);
  to.lineTo(x, y - wall - roof * 0.7);
  to.lineTo(x - width * 0.5, y - wall + roof * 0.16);
  to.closePath();
  to.fill();
  to.fillStyle = PANES;
  for (const pane of windows) to.fillRect(...pane);
}

/** One soft round light, made once and drawn in every size. */
export function makeGlow(): HTMLCanvasElement {
  const glow = document.createElement("canvas");
  glow.width = glow.height = 128;
  const to = glow.getContext("2d")!;
  const light = to.createRadialGradient(64, 64, 0, 64, 64, 64);
  light.addColorStop(0, "rgb(255 214 130 / 0.85)");
  light.addColorStop(0.18, "rgb(255 190 96 / 0.42)");
  light.addColorStop(0.45, "rgb(255 160 70 / 0.13)");
  light.addColorStop(1, "rgb(255 140 60 / 0)");
  to.fillStyle = light;
  to.fillRect(0, 0, 128, 128);
  return glow;
}

/** The light of a house, from 0 (dark) to 1. */
export function paintLight(to: CanvasRenderingContext2D, building: Building, glow: HTMLCanvasElement, level: number): void {
  const { x, y, width, wall, windows, grain } = building;
  const reach = (width + wall) * 2.1;
  to.globalCompositeOperation = "lighter";
  to.globalAlpha = level * 0.75;
  to.drawImage(glow, x - reach / 2, y - wall * 0.5 - reach / 2, reach, reach);
  // what falls on the ground before the door
  to.globalAlpha = level * 0.5;
  to.drawImage(glow, x - width * 0.8, y - width * 0.16, width * 1.6, width * 0.42);
  to.globalCompositeOperation = "source-over";
  to.globalAlpha = level * 0.28;
  to.fillStyle = "#c98a4b";
  outline(to, building);
  to.fill();
  to.globalAlpha = level;
  to.fillStyle = grain < 0.5 ? "#ffdf9a" : "#ffe8b3";
  for (const pane of windows) to.fillRect(...pane);
  to.globalAlpha = 1;
}

/** Where a house on a photo has its light, while that is dark. */
export function paintRing(to: CanvasRenderingContext2D, x: number, y: number, size: number): void {
  to.strokeStyle = "rgb(214 224 240 / 0.55)";
  to.lineWidth = 1;
  to.beginPath();
  to.arc(x, y, size * 0.3, 0, 7);
  to.stroke();
}

/** The light of a house on a photo, where the house itself is in the picture. */
export function paintLamp(to: CanvasRenderingContext2D, x: number, y: number, size: number, glow: HTMLCanvasElement, level: number): void {
  to.globalCompositeOperation = "lighter";
  to.globalAlpha = level;
  to.drawImage(glow, x - size * 2.4, y - size * 2.4, size * 4.8, size * 4.8);
  to.globalCompositeOperation = "source-over";
  to.fillStyle = "#fff0c4";
  to.beginPath();
  to.arc(x, y, size * 0.3, 0, 7);
  to.fill();
  to.globalAlpha = 1;
}
