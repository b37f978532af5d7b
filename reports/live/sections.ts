import { PICTURE_WIDTH } from "../pictures/drawing.js";
import type { Photo } from "../pictures/photo.js";
import type { Album } from "../page/section.js";
import { SECTIONS } from "../page/sections.js";
import { PageAlbum, widthFor } from "./album.js";
import { photoOf, shownOf, type Computed } from "./computed.js";
import type { Embedded } from "../page/embedded.js";
import { keepFolds } from "./folds.js";
import { nodesOf } from "./nodes.js";
import type { MakePanel } from "./store.js";

/** Sections that stay as they were written: knobs do not move them, or they need many simulations. */
const STAY: ReadonlySet<string> = new Set(["spread", "cards", "cautions"]);

/** A picture that is drawn as wide as the page. */
const FITTING = "figure.wide, figure.narrow";

/** Simulates the display with other step times: too slow to follow each move of a knob, even on screen. */
const SLOW = "advice";

/** Elements of a report whose layout and painting would slow down the player. */
const LARGE = 8000;

/** How long after that sections out of sight may be left out of the layout, milliseconds: all of them have been laid out by then. */
const SETTLED = 250;

/** How long after the last change the rest of the page follows, milliseconds. */
const CALM = 150;

/**
 * The report below the player, drawn again by the very sections that wrote it: at once those on screen but the slow one, the
 * others when there is time, or before they are printed.
 */
export const sections =
  ({ version, day }: Embedded): MakePanel =>
  (root, store) => {
    const document = root.ownerDocument;
    const album = new PageAlbum(document);
    const elements = sectionsIn(root);
    /** Those that still show something older. */
    const stale = new Set<HTMLElement>();
    const onScreen = new Set<Element>();
    let shown = shownOf(store.state);

    const redraw = (element: HTMLElement): void => {
      stale.delete(element);
      const now = shown;
      if (now !== null) keepFolds(element, () => fill(element, now, photoOf(store.state), album, day, version));
    };
    // one a turn, and none while knobs are being turned
    let calm: ReturnType<typeof setTimeout> | undefined;
    // sections out of sight keep the size that they had when they were last laid out: so all of them are, whenever it may be another one
    let settling: ReturnType<typeof setTimeout> | undefined;
    let settlingFrame = 0;
    const settle = (): void => {
      document.documentElement.classList.remove("settled");
      // a picture of the whole page shows all of it, where that is not too much to paint
      if (root.getElementsByTagName("*").length < LARGE) return;
      clearTimeout(settling);
      const frames = (left: number): void => {
        if (left === 0) settling = setTimeout(() => document.documentElement.classList.add("settled"), SETTLED);
        else settlingFrame = requestAnimationFrame(() => frames(left - 1));
      };
      cancelAnimationFrame(settlingFrame);
      frames(2);
    };
    const redrawNext = (): void => {
      const [next] = stale;
      if (next === undefined) {
        settle();
        return;
      }
      redraw(next);
      calm = setTimeout(redrawNext);
    };
    const visibly = (): void => [...stale].filter((element) => onScreen.has(element) && element.id !== SLOW).forEach(redraw);

    const observer = new IntersectionObserver((entries) => {
      for (const { target, isIntersecting } of entries) {
        if (isIntersecting) onScreen.add(target);
        else onScreen.delete(target);
      }
      visibly();
    });
    for (const element of elements) observer.observe(element);
    settle();
    // pictures are drawn as wide as the page from now on
    for (const figure of root.querySelectorAll(".wide")) figure.removeAttribute("tabindex");
    const fit = (width: number): void => {
      if (width === album.width) return;
      settle();
      clearTimeout(calm);
      album.width = width;
      for (const element of elements) if (element.querySelector(FITTING) !== null) stale.add(element);
      visibly();
      calm = setTimeout(redrawNext, CALM);
    };
    const contents = elements.find(({ hidden }) => !hidden);
    if (contents !== undefined) new ResizeObserver(() => fit(widthFor(contents))).observe(contents);
    addEventListener("beforeprint", () => {
      fit(PICTURE_WIDTH);
      [...stale].forEach(redraw);
    });
    addEventListener("afterprint", () => contents !== undefined && fit(widthFor(contents)));
    let photo = photoOf(store.state);
    const follow = (): void => {
      const [next, nextPhoto] = [shownOf(store.state), photoOf(store.state)];
      if (next === shown && nextPhoto === photo) return;
      shown = next;
      photo = nextPhoto;
      for (const element of elements) stale.add(element);
      requestAnimationFrame(visibly);
      clearTimeout(calm);
      calm = setTimeout(redrawNext, CALM);
    };
    store.watch(shownOf, follow);
    store.watch(photoOf, follow);
  };

/** The elements of the sections that follow, in order; those that the report had nothing to say in are put in, hidden. */
function sectionsIn(root: HTMLElement): HTMLElement[] {
  const document = root.ownerDocument;
  let before: Element | null = null;
  return Object.keys(SECTIONS).flatMap((id) => {
    let element = document.getElementById(id);
    if (element === null) {
      element = document.createElement("section");
      element.id = id;
      element.hidden = true;
      element.append(document.createElement("h2"));
      if (before === null) root.prepend(element);
      else before.after(element);
    }
    before = element;
    return STAY.has(id) ? [] : [element];
  });
}

function fill(element: HTMLElement, shown: Computed, photo: Photo | null, album: Album, day: number, version: string): void {
  const { scenario, record, figures, ratings, notes, promises } = shown;
  const opening = Math.min(day, record.openings.length);
  const section = SECTIONS[element.id]!({ scenario, record, figures, ratings, notes, promises, spread: null, photo, version, day: opening, dated: null, live: null }, album);
  element.hidden = section === null;
  if (section === null) return;
  const heading = element.querySelector("h2")!;
  heading.textContent = section.heading;
  while (heading.nextSibling !== null) heading.nextSibling.remove();
  heading.after(nodesOf(album.document, section.body));
}
