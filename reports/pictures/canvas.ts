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

let made: Promise<Canvas> | undefined;

/** The canvas of this process. The document behind it takes longer to load than all drawing, so it is loaded once and late. */
export function canvas(): Promise<Canvas> {
  made ??= makeCanvas();
  return made;
}

async function makeCanvas(): Promise<Canvas> {
  const { JSDOM } = await import("jsdom");
  const { window } = new JSDOM("");
  const writer = new window.XMLSerializer();
  return { document: window.document, serialize: (svg) => writer.serializeToString(svg) };
}
