import { instantText } from "../../../sim/engine/instant.js";
import { valueText } from "../../../sim/promises/index.js";
import type { Opening } from "../../../sim/model/scenario.js";
import type { Rating } from "../../../sim/ratings/index.js";
import { percent } from "../../../sim/units/text.js";
import { capitalised, counted, limitInWords, withUnit } from "../../words.js";
import { html, type Html } from "../html.js";
import { fold, right, table, type MakeSection } from "../section.js";

/** What was promised, and whether the nominal build keeps it. */
export const promises: MakeSection = ({ promises: results, scenario: { opening } }) => {
  if (results.length === 0) return null;
  const rows = results.map(({ text, value, limit, unit, kept }) => [
    text,
    value === null ? (kept ? "does not arise" : "a timer stalls") : valueText(value, limit, unit),
    valueText(limit, null, unit),
    kept ? html`kept` : html`<strong>broken</strong>`,
  ]);
  const breaks = results.flatMap(({ text, where }) =>
    where === null ? [] : [html`<li>${text}: ${where.at === null ? "" : `in ${instantText(where.at, opening)}: `}${where.what}</li>\n`],
  );
  const broken = results.filter(({ kept }) => !kept).length;
  const outcome =
    broken === 0 ? "every promise is kept" : `${broken} of ${counted(results.length, "promise")} ${broken === 1 ? "is" : "are"} broken`;
  return {
    id: "promises",
    heading: "What is promised",
    body: html`<p>With parts at their nominal values ${outcome}.</p>
${table(["promise", right("found"), right("limit"), "verdict"], rows, (i) => `promises[${i}]`)}${
      breaks.length === 0 ? html`` : html`<h3>Where it breaks first</h3>\n<ul>\n${breaks}</ul>\n`
    }`,
  };
};

/** Whether everything is inside its limit: what is not well within, and of the rest the fullest. */
export const ratings: MakeSection = ({ ratings: rows, notes, scenario }) => {
  if (rows.length === 0 && notes.length === 0) return null;
  const fullest = [...rows].sort((a, b) => b.share - a.share);
  const told = fullest.filter(({ verdict }) => verdict !== "within");
  const over = told.filter(({ verdict }) => verdict === "over").length;
  const well = fullest.filter(({ verdict }) => verdict === "within");
  const exceeded = over === 0 ? "Nothing exceeds its limit." : `${over} of ${counted(rows.length, "limit")} ${over === 1 ? "is" : "are"} exceeded.`;
  return {
    id: "ratings",
    heading: "Is everything inside its rating?",
    body: html`<p>${exceeded} ${wellWithin(well, told.length)}</p>
${told.length === 0 ? html`` : html`${limitsTable(told, rows)}<p>Close: more than 80 % of the limit.</p>
${remarks(told, scenario.opening)}`}`,
  };
};

/** The appendix to the ratings, for whoever builds the display: every limit, where it comes from, what to mind. */
export const limits: MakeSection = ({ ratings: rows, notes }) => {
  if (rows.length === 0 && notes.length === 0) return null;
  return {
    id: "limits",
    heading: "For the builder: every limit",
    body: html`<p>Within: up to 80 % of the limit; close: up to all of it.</p>
${fold(counted(rows.length, "limit"), limitsTable([...rows].sort((a, b) => b.share - a.share), rows))}${fold(
      "Where the limits come from",
      html`<h3>Where the limits come from</h3>\n<ul>\n${sources(rows)}</ul>\n`,
    )}${notes.length === 0 ? html`` : html`<h3>Notes</h3>\n<ul>\n${notes.map(({ where, text }) => html`<li>${where}: ${text}</li>\n`)}</ul>\n`}`,
  };
};

/** The limits that need no table for a committee, in a sentence. */
function wellWithin(well: readonly Rating[], others: number): string {
  const [fullest] = well;
  if (fullest === undefined) return "";
  const one = others === 0 ? "The one limit is" : "The other one is";
  const many = others === 0 ? `All ${well.length} limits are` : `The other ${well.length} are`;
  const where = `${fullest.what} of ${fullest.where}, at ${percent(fullest.share)} of its limit`;
  return `${well.length === 1 ? one : many} well within; the fullest is ${where}.`;
}

/** Some of all limits, each marked by its place among them. */
function limitsTable(rows: readonly Rating[], all: readonly Rating[]): Html {
  return table(
    ["what", "where", right("value"), right("limit"), "share of the limit", "verdict"],
    rows.map((row) => [
      row.what,
      row.where,
      withUnit(row.value, row.unit),
      limitInWords(row),
      meter(row),
      row.verdict === "within" ? html`within` : html`<strong>${row.verdict}</strong>`,
    ]),
    (i) => `ratings[${all.indexOf(rows[i]!)}]`,
  );
}

/** A bar for the share of a limit; it ends at the limit, where an exceeded one runs full and says so in words. */
function meter({ share, verdict }: Rating): Html {
  const width = (100 * Math.min(1, share)).toFixed(1);
  const filled = html`<span class="meter ${verdict}" aria-hidden="true"><span style="width:${width}%"></span></span>`;
  return html`<span class="bar">${filled} ${percent(share)}</span>`;
}

/** Each limit's source once, whatever the number of boards. */
function sources(rows: readonly Rating[]): Html[] {
  const told = new Set(rows.map(({ what, source }) => `${what}: ${source}`));
  return [...told].map((text) => html`<li>${text}</li>\n`);
}

function remarks(rows: readonly Rating[], opening: Opening): Html {
  const said = rows.flatMap(({ what, where, verdict, worst, advice }) => {
    if (verdict === "within") return [];
    const when = worst === null ? "" : ` Worst first in ${instantText(worst.at, opening)}, with ${worst.houses.join(", ")} lit.`;
    const help = advice === null ? "" : ` ${capitalised(advice)}.`;
    return [html`<li>${capitalised(what)}, ${where}: ${verdict}.${when}${help}</li>\n`];
  });
  return said.length === 0 ? html`` : html`<ul>\n${said}</ul>\n`;
}
