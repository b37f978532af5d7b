import { headlines } from "../../sim/figures/headlines.js";
import type { Figures } from "../../sim/figures/index.js";
import { drawReturnCurve } from "../pictures/return-curve.js";
import { drawVisitCurve } from "../pictures/visit-curve.js";
import { flatReturns, flatStays } from "../flatcurves.js";
import { figureValue } from "../words.js";
import { widthFor } from "./album.js";
import { isTrial, plannedOf, shownOf, type Computed } from "./computed.js";
import { element } from "./dom.js";
import type { Store } from "./store.js";

type Column = "planned" | "tried";

/** Key figures as planned and as tried, and the two curves that knobs are turned for. */
export function comparison(store: Store): HTMLElement {
  const body = element("tbody");
  const table = element(
    "table",
    { class: "comparison" },
    element("caption", {}, "Key figures, with nominal parts"),
    element("thead", {}, element("tr", {}, ...["figure", "planned", "tried"].map((name) => element("th", { scope: "col" }, name)))),
    body,
  );
  const curves = element("div", { class: "curves" });
  const key = element("p", {}, "Thin line: as planned. Thick line: as tried.");
  const show = (): void => {
    const [planned, shown] = [plannedOf(store.state), shownOf(store.state)];
    if (shown === null) return;
    body.replaceChildren(...rowsOf(planned, shown, isTrial(store.state)));
    const before = planned === shown ? null : (planned?.figures ?? null);
    const width = (drawnFor ??= widthFor(curves));
    const drawn = (sentence: (of: Figures) => string | null, draw: () => SVGSVGElement): Node => {
      const flat = before !== null && sentence(before) === null ? null : sentence(shown.figures);
      return flat === null ? draw() : element("p", {}, flat);
    };
    curves.replaceChildren(
      drawn(flatReturns, () => drawReturnCurve(document, shown.figures, { id: "tried-return", before, width })),
      drawn(flatStays, () => drawVisitCurve(document, shown.figures, { id: "tried-visit", before, width })),
    );
    key.hidden = before === null || curves.querySelector("svg") === null;
  };
  // looked up when it changes: asking the page for it at every move of a knob makes it lay itself out twice
  let drawnFor: number | undefined;
  new ResizeObserver(() => {
    const now = widthFor(curves);
    if (now === drawnFor) return;
    drawnFor = now;
    show();
  }).observe(curves);
  store.watch(shownOf, show);
  store.watch(plannedOf, show);
  const folded = element("details", { class: "fold", open: "" }, element("summary", {}, "Key figures, planned and tried"),
    element("div", { class: "scroll", tabindex: "0" }, table));
  return element("div", { class: "compared" }, folded, curves, key);
}

function rowsOf(planned: Computed | null, shown: Computed, trial: boolean): HTMLElement[] {
  const figures = headlines(shown.scenario.visitors).map((headline) => {
    const { key, unit, words } = headline;
    const cell = (column: Column, computed: Computed | null): HTMLElement => {
      const value = computed === null ? null : headline.of(computed.measures);
      const text = value === null ? "not defined" : figureValue(value, unit);
      return cellOf(column, value === null ? text : element("data", { value: String(value) }, text));
    };
    return element("tr", { "data-figure": key }, element("th", { scope: "row" }, words), cell("planned", planned), triedCell(trial, cell, shown));
  });
  const counts = [
    ["promises kept", ({ promises }: Computed) => `${promises.filter(({ kept }) => kept).length} of ${promises.length}`],
    ["ratings exceeded", ({ ratings }: Computed) => String(ratings.filter(({ verdict }) => verdict === "over").length)],
  ] as const;
  const verdicts = counts.map(([name, text]) => {
    const cell = (column: Column, of: Computed | null): HTMLElement => cellOf(column, of === null ? "not defined" : text(of));
    return element("tr", {}, element("th", { scope: "row" }, name), cell("planned", planned), triedCell(trial, cell, shown));
  });
  return [...verdicts, ...figures];
}

function triedCell(trial: boolean, cell: (column: Column, of: Computed | null) => HTMLElement, shown: Computed): HTMLElement {
  return trial ? cell("tried", shown) : cellOf("tried", "as planned");
}

function cellOf(column: Column, content: Node | string): HTMLElement {
  return element("td", { class: `number ${column}` }, content);
}
