import { summarise } from "../../sim/spread/summary.js";
import { SECTIONS } from "../page/sections.js";
import { counted } from "../words.js";
import { PageAlbum } from "./album.js";
import type { Answer, Order } from "./builder.js";
import { isTrial, shownOf, type Computed } from "./computed.js";
import { button, element } from "./dom.js";
import type { Embedded } from "../page/embedded.js";
import { nodesOf } from "./nodes.js";
import type { MakePanel } from "./store.js";

const BUILDS = 200;

/** As the boards will come out: builds drawn by a worker, which runs the page's own script. */
export const builds =
  ({ version, day }: Embedded, script: string): MakePanel =>
  (root, store) => {
    const said = element("p", { role: "status" });
    const bar = element("progress", { max: String(BUILDS), value: "0", "aria-label": "Builds drawn", hidden: "" });
    const result = element("div");
    const album = new PageAlbum(document);
    let worker: Worker | null = null;
    let drawn: Computed | null = null;
    const rows: Float64Array[] = [];

    const end = (): void => {
      worker?.terminate();
      worker = null;
      bar.hidden = true;
      stop.hidden = true;
      draw.disabled = false;
    };
    const show = (): void => {
      if (drawn === null || rows.length === 0) return;
      const { scenario, record, figures, ratings, notes, promises } = drawn;
      const spread = summarise(scenario, rows, BUILDS, true);
      const section = SECTIONS["spread"]!({ scenario, record, figures, ratings, notes, promises, spread, photo: null, version, day, dated: null, live: null }, album);
      result.replaceChildren(nodesOf(document, section!.body));
      setApart(result);
    };
    const draw = button(`Draw ${BUILDS} builds`, () => {
      drawn = shownOf(store.state);
      if (drawn === null) return;
      rows.length = 0;
      const what = isTrial(store.state) ? "what is tried" : "the plan";
      const url = URL.createObjectURL(new Blob([script], { type: "text/javascript" }));
      worker = new Worker(url);
      URL.revokeObjectURL(url);
      worker.onmessage = ({ data }: MessageEvent<Answer>): void => {
        if (data.kind === "error") {
          said.textContent = data.message;
          end();
          return;
        }
        rows.push(...data.rows);
        bar.value = rows.length;
        if (rows.length < BUILDS) return;
        said.textContent = `${counted(BUILDS, "build")} of ${what} drawn.`;
        end();
        show();
      };
      worker.onerror = (event): void => {
        // an event without a message: the browser has not started it, or has ended it
        const why = event.message || "the browser has ended the work";
        said.textContent = `The builds could not be drawn (${why}). Try again, with fewer days.`;
        end();
      };
      said.textContent = `Drawing builds of ${what} …`;
      bar.value = 0;
      bar.hidden = false;
      stop.hidden = false;
      draw.disabled = true;
      const order: Order = { scenario: drawn.scenario, builds: BUILDS };
      worker.postMessage(order);
    });
    const stop = button("Stop", () => {
      end();
      said.textContent = rows.length === 0 ? "Stopped before a build was done." : `Stopped after ${counted(rows.length, "build")}: a ` +
        "partial result.";
      show();
    });
    stop.hidden = true;
    root.classList.add("builds");
    root.replaceChildren(
      element("h2", { id: "builds" }, "As the boards will come out"),
      element("p", {}, "Parts are never just what is printed on them. Draw builds from their tolerances, for what this page shows now."),
      element("div", { class: "controls" }, draw, stop, bar),
      said,
      result,
    );
    store.watch(shownOf, (shown) => {
      if (drawn === null || shown === drawn) return;
      const stopped = worker === null ? "" : "Stopped, since the display has changed: draw the builds again.";
      end();
      said.textContent = rows.length === 0 ? stopped : "These builds were drawn before the last change; draw them again.";
      show();
    });
  };

/** Ids of the pictures that stand a second time in the report below. */
function setApart(root: HTMLElement): void {
  for (const one of root.querySelectorAll("svg [id]")) one.id = `live-${one.id}`;
  for (const svg of root.querySelectorAll("svg[aria-labelledby]")) {
    svg.setAttribute("aria-labelledby", svg.getAttribute("aria-labelledby")!.split(" ").map((id) => `live-${id}`).join(" "));
  }
}
