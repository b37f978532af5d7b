import { PICTURE_WIDTH } from "../pictures/drawing.js";
import { svgFile, type Canvas } from "../pictures/canvas.js";
import { trusted, type Html } from "./html.js";
import { Album } from "./section.js";

/** The pictures of a page that is written: each stands in the page and in a file of its own. */
export class FileAlbum extends Album {
  readonly width = PICTURE_WIDTH;
  readonly files = new Map<string, string>();

  constructor(private readonly canvas: Canvas) {
    super();
  }

  get document(): Document {
    return this.canvas.document;
  }

  picture(name: string, svg: SVGSVGElement): Html {
    const markup = this.canvas.serialize(svg);
    this.files.set(`${name}.svg`, svgFile(markup));
    return trusted(markup);
  }
}
