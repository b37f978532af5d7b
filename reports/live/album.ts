import { PICTURE_WIDTH } from "../pictures/drawing.js";
import { html, type Html } from "../page/html.js";
import { Album } from "../page/section.js";

/** Pictures for the page that runs: the elements themselves. */
export class PageAlbum extends Album {
  width = PICTURE_WIDTH;

  constructor(readonly document: Document) {
    super();
  }

  // drawn as wide as the page is, it never scrolls
  override wide(name: string, svg: SVGSVGElement): Html {
    return html`<figure>${this.picture(name, svg)}</figure>\n`;
  }

  picture(_name: string, svg: SVGSVGElement): Html {
    return html`${svg}`;
  }
}

/** Width for a picture that is to fill an element: drawn narrow where that is, so that its words stay large enough. */
export function widthFor({ clientWidth }: HTMLElement): number {
  return clientWidth === 0 ? PICTURE_WIDTH : Math.min(PICTURE_WIDTH, Math.max(240, clientWidth));
}
