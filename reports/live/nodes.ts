import { Html, isList, type Insert } from "../page/html.js";
import { printable } from "../pictures/text.js";

/** Private characters round the number of what belongs in their place; the program's own markup has none. */
const [BEGIN, END] = ["\ue000", "\ue001"];
const PLACES = /\ue000(\d+)\ue001/g;

/**
 * The markup as nodes of the page. Only the program's own words go through the parser: text that was put in becomes the
 * text of a node or the value of an attribute, whatever it holds.
 */
export function nodesOf(document: Document, html: Html): DocumentFragment {
  const texts: string[] = [];
  const elements = new Map<string, Element>();
  const flat = (value: Insert): string => {
    if (value instanceof Html) return value.parts.reduce((all, part, i) => all + flat(value.inserts[i - 1]!) + part);
    if (isList(value)) return value.map(flat).join("");
    const place = `${BEGIN}${texts.length}${END}`;
    if (typeof value !== "object") return (texts.push(printable(String(value))), place);
    texts.push("");
    elements.set(place, value);
    return `<!--${place}-->`;
  };
  const template = document.createElement("template");
  template.innerHTML = flat(html);
  const filled = (text: string): string => text.replace(PLACES, (_, place: string) => texts[Number(place)]!);
  const walker = document.createTreeWalker(template.content, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT | NodeFilter.SHOW_COMMENT);
  const comments: Comment[] = [];
  for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
    if (node instanceof Element) for (const attribute of node.attributes) attribute.value = filled(attribute.value);
    else if (node instanceof Comment) comments.push(node);
    else node.nodeValue = filled(node.nodeValue!);
  }
  for (const comment of comments) comment.replaceWith(elements.get(comment.data)!);
  return template.content;
}
