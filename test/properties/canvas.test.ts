import fc from "fast-check";
import { expect, test } from "vitest";
import { canvas } from "../../reports/pictures/canvas.js";
import { Drawing } from "../../reports/pictures/drawing.js";
import { document, serialized } from "../paper.js";
import { often } from "../thorough.js";

/** Text that tries to get out of where it stands. */
const hostile = fc.oneof(
  fc.string({ unit: "binary" }),
  fc.constantFrom("</text><script>alert(1)</script>", "\"'><&amp;&#60;", "]]>", "<![CDATA[", "<!--", "--><?x ?>", "\u0000\u001b[31m", "\u202eevil", "\ud800"),
);
/** What goes into attributes: numbers and words of ours, and the signs of XML all the same. */
const value = fc.oneof(fc.double({ noNaN: true, min: -1e6, max: 1e6 }), fc.string({ unit: fc.constantFrom("a", "Z", "<", ">", "&", "\"", "'", " ", "é", "…", "😀") }));
const mark = fc.record({
  name: fc.constantFrom("path", "rect", "linearGradient", "textPath"),
  attributes: fc.dictionary(fc.constantFrom("d", "viewBox", "stroke-width", "preserveAspectRatio", "href", "data-lines"), value),
  text: hostile,
});

test("a picture is written to the byte as the document of a browser writes it, whatever its texts", () => {
  const paper = canvas();
  const facts = fc.record({ id: fc.constant("any"), width: fc.nat(900), height: fc.nat(900), title: hostile, description: hostile });
  fc.assert(
    fc.property(facts, fc.array(mark, { maxLength: 6 }), (about, marks) => {
      const draw = (into: Document): SVGSVGElement => {
        const drawing = new Drawing(into, about);
        for (const { name, attributes, text } of marks) {
          drawing.text(1, 2, text, { bold: true, room: 300 });
          drawing.add(name, attributes);
          const nested = into.createElementNS(drawing.svg.namespaceURI, "stop");
          nested.textContent = text;
          drawing.add(name, attributes).appendChild(nested);
        }
        return drawing.svg;
      };
      expect(paper.serialize(draw(paper.document))).toBe(serialized(draw(document)));
    }),
    { numRuns: often(30, 200) },
  );
});
