import { canvas, svgFile } from "../pictures/canvas.js";
import { UsageError } from "./errors.js";
import { writeOver } from "./files.js";

/** Draws a picture and writes it into a file of its own, whole or not at all. */
export async function writePicture(path: string, draw: (document: Document) => SVGSVGElement): Promise<void> {
  if (!/\.svg$/i.test(path)) throw new UsageError(`${path}: pictures are written as SVG; give a name that ends in .svg`);
  const paper = canvas();
  const svg = paper.serialize(draw(paper.document));
  await writeOver(path, svgFile(svg));
}
