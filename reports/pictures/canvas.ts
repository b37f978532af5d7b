import { DOMImplementation, XMLSerializer } from "@xmldom/xmldom";

/** What pictures are drawn on: a document to make elements with, and a writer for them. */
export interface Canvas {
  readonly document: Document;
  /** The element as XML, with its namespace. */
  serialize(svg: SVGSVGElement): string;
}

/** A picture as a file of its own. */
export function svgFile(markup: string): string {
  return `<?xml version="1.0" encoding="UTF-8"?>\n${markup}\n`;
}

/**
 * A canvas outside a browser. Its document is one of XML alone, small and soon loaded: it makes elements and keeps their
 * attributes in order, and has no selectors, no styles and no layout.
 */
export function canvas(): Canvas {
  const writer = new XMLSerializer();
  return {
    document: new DOMImplementation().createDocument(null, "") as unknown as Document,
    serialize: (svg) => writer.serializeToString(svg as never),
  };
}
