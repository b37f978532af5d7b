/** Lines as the page's script draws them, against those of the library that draws them elsewhere. */
import * as shape from "d3-shape";
import fc from "fast-check";
import { expect, test } from "vitest";
import * as straight from "../../reports/live/straightlines.js";

test("lines and areas are those of d3-shape, to the last digit", () => {
  const number = fc.double({ min: -1e4, max: 1e4, noNaN: true });
  fc.assert(fc.property(fc.array(fc.tuple(number, number, number), { maxLength: 9 }), fc.nat(5), number, (points, digits, ground) => {
    type Point = [number, number, number];
    const drawn = ({ line, area }: Pick<typeof shape, "line" | "area">): unknown[] => [
      line<Point>().digits(digits).x(([x]) => x).y(([, y]) => y)(points),
      area<Point>().digits(digits).x(([x]) => x).y0(([, y]) => y).y1(([, , y]) => y)(points),
      area<Point>().digits(digits).x((_, i) => i + 0.5).y0(ground).y1(([, y]) => y)(points),
    ];
    expect(drawn(straight as unknown as typeof shape)).toEqual(drawn(shape));
  }), { numRuns: 200 });
});
