import { headlines } from "../../../sim/figures/headlines.js";
import { percent, spokenDuration } from "../../../sim/units/text.js";
import type { Scenario } from "../../../sim/model/scenario.js";
import type { Kept, Spread } from "../../../sim/spread/summary.js";
import { drawReturnFan } from "../../pictures/return-fan.js";
import { drawStepSpread, type StepPromise } from "../../pictures/step-spread.js";
import { moverInWords } from "../../movers.js";
import { counted, figureValue } from "../../words.js";
import { html, type Html } from "../html.js";
import { fold, right, table, type Album, type MakeSection } from "../section.js";

/** The boards as they will really come out: what holds for parts anywhere inside their tolerances. */
export const spread: MakeSection = ({ scenario, spread: found }, album) => {
  if (found === null) return null;
  const stepped = found.boards.some(({ stepsDrawn }) => stepsDrawn.length > 0);
  return {
    id: "spread",
    heading: "As the boards will really come out",
    body: html`<p>No part is just what its marking says. So ${counted(found.builds, "build")} were drawn, every part anywhere inside its
tolerance, and each was simulated.${outcomes(found)}</p>
${yieldTable(found)}${stepped ? album.both("step-spread", (facts) => drawStepSpread(album.document, found.boards, promisedSteps(scenario), facts)) : html``}${fold(
      "Where the spread of the step times comes from",
      sources(found),
    )}${fold("Key figures over the builds", keyFigures(scenario, found))}${
      found.curve === null || found.curve.length === 0 ? html`` : fan(found.curve, found.builds, album)
    }`,
  };
};

function keyFigures(scenario: Scenario, found: Spread): Html {
  return html`<h3>Key figures over the builds</h3>
${table(
  ["figure", right("1 in 20 below"), right("middle"), right("1 in 20 above")],
  headlines(scenario.visitors).map(({ key, words, unit }) => {
    const range = found.figures[key] ?? null;
    return range === null ? [words, "not defined", "", ""] : [words, ...[range.p05, range.p50, range.p95].map((value) => figureValue(value, unit))];
  }),
  (i) => `spread.${headlines(scenario.visitors)[i]!.key}`,
)}`;
}

function fan(curve: NonNullable<Spread["curve"]>, builds: number, album: Album): Html {
  return album.both("return-fan", (facts) => drawReturnFan(album.document, curve, builds, facts));
}

function outcomes({ stalled, unreachable }: Spread): string {
  return (
    (stalled === 0 ? "" : ` In ${counted(stalled, "build")} a timer stalls: they keep no promise.`) +
    (unreachable === 0 ? "" : ` In ${counted(unreachable, "build")} a knob does not reach its setting and stays at the end of its track.`)
  );
}

function yieldTable({ promises, allKept }: Spread): Html {
  if (allKept === null) return html`<p>No promises are made.</p>\n`;
  const row = (text: string, { kept, builds, share, low, high }: Kept): string[] => [
    text,
    `${kept} of ${builds}`,
    percent(share),
    `${percent(low)} to ${percent(high)}`,
  ];
  return html`<h3>How many builds keep what is promised</h3>
${table(
  ["promise", right("kept in"), right("share"), right("likely range")],
  [...promises.map((promise) => row(promise.text, promise)), row("all of them", allKept)],
)}<p>Likely range: of all builds that could be soldered, so many keep the promise; such a range is right 19 times in 20.</p>
`;
}

function promisedSteps({ promises }: Scenario): StepPromise | null {
  return promises.find((promised) => promised.kind === "step") ?? null;
}

function sources({ boards }: Spread): Html {
  const rows = boards.map(({ id, sources: { parts, worstCase, rootSumSquare } }) => {
    const moving = parts.filter(({ share }) => share > 0);
    const end = (seconds: number | null): string => (seconds === null ? "stalls" : spokenDuration(seconds));
    return [
      id,
      moving.length === 0 ? "nothing moves it" : moving.map(({ part, share }) => `${moverInWords(part)}, ${percent(share)}`).join("; "),
      `${end(rootSumSquare.min)} to ${end(rootSumSquare.max)}`,
      `${end(worstCase.min)} to ${end(worstCase.max)}`,
    ];
  });
  return html`<h3>Where the spread of the step times comes from</h3>
${table(["board", "what moves it, and how much of the spread comes from it", "if errors partly cancel", "if all errors add up"], rows)}`;
}
