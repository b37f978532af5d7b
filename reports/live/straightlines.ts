/**
 * Stands for d3-shape in the script of the page, which would carry all its curves along: lines that are straight from point
 * to point, and the area between two of them, written as its own are.
 */
type Place<Point> = (point: Point, index: number) => number;

/** A generator of paths, to be told where points lie. */
interface Straight<Point> {
  (points: readonly Point[]): string | null;
  digits(count: number): this;
  x(place: Place<Point>): this;
  y(place: Place<Point>): this;
  y0(place: Place<Point> | number): this;
  y1(place: Place<Point>): this;
}

function straight<Point>(path: (corner: (point: Point, index: number, base: boolean) => string, points: readonly Point[]) => string): Straight<Point> {
  let scale = 1000;
  const none: Place<Point> = () => 0;
  const places = { x: none, base: none, top: none };
  const rounded = (value: number): number => Math.round(value * scale) / scale;
  const corner = (point: Point, index: number, base: boolean): string =>
    `${rounded(places.x(point, index))},${rounded((base ? places.base : places.top)(point, index))}`;
  const put = (name: keyof typeof places) => (place: Place<Point> | number): Straight<Point> => {
    places[name] = typeof place === "number" ? () => place : place;
    return draw;
  };
  const draw: Straight<Point> = Object.assign((points: readonly Point[]) => (points.length === 0 ? null : path(corner, points)), {
    digits: (count: number) => {
      scale = 10 ** count;
      return draw;
    },
    x: put("x"),
    y: put("top"),
    y0: put("base"),
    y1: put("top"),
  });
  return draw;
}

/** A line from point to point. */
export const line = <Point>(): Straight<Point> =>
  straight((corner, points) => `M${points.map((point, i) => corner(point, i, false)).join("L")}${points.length === 1 ? "Z" : ""}`);

/** What lies between a line and its base. */
export const area = <Point>(): Straight<Point> =>
  straight((corner, points) => {
    const [top, base] = [false, true].map((below) => points.map((point, i) => corner(point, i, below)));
    return `M${[...top!, ...base!.reverse()].join("L")}Z`;
  });
