import { PICTURE_WIDTH, type FittingFacts } from "../pictures/drawing.js";
import { svgFile, type Canvas } from "../pictures/canvas.js";
import { PHOTO_ID, pictureFileName, type Photo } from "../pictures/photo.js";
import { html, trusted, type Html } from "./html.js";
import { Album } from "./section.js";

/** What a phone has beside the margins of the page, pixels. */
const PHONE_WIDTH = 328;

/** The pictures of a page that is written: each stands in the page and in a file of its own. */
export class FileAlbum extends Album {
  readonly width = PICTURE_WIDTH;
  readonly files = new Map<string, string>();

  /** `photo`: the picture of the display that pictures may refer to. */
  constructor(
    private readonly canvas: Canvas,
    private readonly photo: Photo | null = null,
  ) {
    super();
  }

  get document(): Document {
    return this.canvas.document;
  }

  picture(name: string, svg: SVGSVGElement): Html {
    const markup = this.canvas.serialize(svg);
    this.files.set(`${name}.svg`, svgFile(this.photo === null ? markup : this.canvas.serialize(besidePhoto(svg, this.photo))));
    return trusted(markup);
  }

  override both(name: string, draw: (facts: FittingFacts) => SVGSVGElement): Html {
    const small = draw({ id: `${name}-small`, width: PHONE_WIDTH });
    return html`<figure class="wide large">${this.picture(name, draw({ id: name, width: this.width }))}</figure>
<figure class="narrow small">${trusted(this.canvas.serialize(small))}</figure>\n`;
  }
}

/** A picture that refers to the photo in its page as one that refers to the file beside it. */
function besidePhoto(svg: SVGSVGElement, photo: Photo): SVGSVGElement {
  const copy = svg.cloneNode(true) as SVGSVGElement;
  const uses = Array.from(copy.getElementsByTagName("use")).filter((use) => use.getAttribute("href") === `#${PHOTO_ID}`);
  for (const use of uses) {
    const image = copy.ownerDocument.createElementNS(copy.namespaceURI, "image");
    for (const { name, value } of Array.from(use.attributes)) image.setAttribute(name, value);
    image.setAttribute("href", pictureFileName(photo));
    image.setAttribute("width", String(photo.width));
    image.setAttribute("height", String(photo.height));
    use.parentNode!.replaceChild(image, use);
  }
  return copy;
}
