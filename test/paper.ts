/** A browser's document without a browser: for tests that ask a drawing what is in it, and to hold others against. */
import { JSDOM } from "jsdom";

const { window } = new JSDOM("");

export const { document } = window;

/** As XML, the way the standard has it. */
export function serialized(element: Element): string {
  return new window.XMLSerializer().serializeToString(element);
}
