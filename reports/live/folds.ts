/** What a page folds up on a phone, where it is for the builder more than for a committee. */

const FOLDS = "details.fold";

/** Folds are closed where a phone shows them, open where the screen is wide, and on paper. */
export function foldOnPhones(document: Document): void {
  const phone = matchMedia("screen and (max-width: 40rem)");
  const folds = (): HTMLDetailsElement[] => [...document.querySelectorAll<HTMLDetailsElement>(FOLDS)];
  const follow = (): void => {
    for (const fold of folds()) fold.open = !phone.matches;
  };
  phone.addEventListener("change", follow);
  follow();
  let closed: HTMLDetailsElement[] = [];
  addEventListener("beforeprint", () => {
    closed = folds().filter(({ open }) => !open);
    for (const fold of closed) fold.open = true;
  });
  addEventListener("afterprint", () => {
    for (const fold of closed) fold.open = false;
  });
}

/** Draws a part of the page anew; what was folded in it stays so. */
export function keepFolds(part: HTMLElement, draw: () => void): void {
  const open = [...part.querySelectorAll<HTMLDetailsElement>(FOLDS)].map((fold) => fold.open);
  draw();
  part.querySelectorAll<HTMLDetailsElement>(FOLDS).forEach((fold, i) => (fold.open = open[i] ?? fold.open));
}
