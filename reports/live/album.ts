import { html, type Html } from "../page/html.js";
import { Album } from "../page/section.js";

/** Pictures for the page that runs: the elements themselves. */
export class PageAlbum extends Album {
  constructor(readonly document: Document) {
    super();
  }

  picture(_name: string, svg: SVGSVGElement): Html {
    return html`${svg}`;
  }
}
