/** What is said of promises, limits and returns, of one and of several; facts made by hand, sentences written out beside them. */
import { describe, expect, test } from "vitest";
import { limits, promises as promisesSection, ratings as ratingsSection } from "../../reports/page/sections/verdicts.js";
import type { Album, ReportInput } from "../../reports/page/section.js";
import { summaryPage } from "../../reports/page/summary.js";
import { echoesInWords } from "../../reports/sentences.js";
import { verdictsOf } from "../../reports/verdicts.js";
import { figures, parseScenario, simulate, type Figures, type PromiseResult, type Rating } from "../../sim/index.js";
import { HOUR, MINUTE, recordOf, type Day } from "../properties/records.js";

const scenario = parseScenario(
  `{ lampdrift: 1, title: Two, opening: { from: "10:00", until: "12:00", run: 2 }, visitors: { stay: 5 min, returns: [10 min, 30 min] }, houses: { a: , b: },
    boards: { q: { timer: { kind: quartz, step: 60 s }, counter: { kind: ring, steps: 2 }, outputs: { 0: a, 1: b } } } }`,
  "two.yaml",
);
const record = simulate(scenario, { trace: true });
const plain: ReportInput = { scenario, record, figures: figures(record), ratings: [], notes: [], promises: [], spread: null, photo: null, version: "1.2.3", day: 1, dated: null, live: null };

const promise = (text: string, kept: boolean): PromiseResult => ({ promise: "litHouses", text, value: 1, limit: 1, unit: "houses", kept, where: null });
const rating = (what: string, share: number): Rating => ({
  what, where: "q", value: share, limit: 1, unit: "A", share, verdict: share > 1 ? "over" : share > 0.8 ? "close" : "within", source: "", worst: null, advice: null,
});
const input = (promises: readonly PromiseResult[], ratings: readonly Rating[] = []): ReportInput => ({ ...plain, promises, ratings });
const sentence = (facts: ReportInput, section: string): string | undefined => verdictsOf(facts).find((one) => one.section === section)?.sentence;
const wordsOf = (markup: string): string => markup.replace(/<[^>]*>/g, " ").replace(/\s+/g, " ").trim();

describe("of promises", () => {
  const page = (...promises: readonly PromiseResult[]): string => wordsOf(promisesSection(input(promises), undefined as unknown as Album)!.body.markup);

  test("what a report begins with", () => {
    const told = (...promises: readonly PromiseResult[]): string | undefined => sentence(input(promises), "promises");
    expect(sentence(plain, "found")).toBe("Nothing is promised yet: the scenario has no list of promises to check.");
    expect(told(promise("x", true))).toBe("The one promise is kept.");
    expect(told(promise("x", true), promise("y", true))).toBe("All 2 promises are kept.");
    expect(told(promise("x", false))).toBe("1 of 1 promise is broken: “x”.");
    expect(told(promise("x", true), promise("y", false))).toBe("1 of 2 promises is broken: “y”.");
    expect(told(promise("x", false), promise("y", true), promise("z", false))).toBe("2 of 3 promises are broken: the first “x”.");
  });

  test("what their section says", () => {
    expect(page(promise("x", true))).toMatch(/^With parts at their nominal values every promise is kept\./);
    expect(page(promise("x", false), promise("y", true))).toMatch(/^With parts at their nominal values 1 of 2 promises is broken\./);
    expect(page(promise("x", false), promise("y", false))).toMatch(/^With parts at their nominal values 2 of 2 promises are broken\./);
  });
});

describe("of limits", () => {
  const page = (...rows: readonly Rating[]): string => wordsOf(ratingsSection(input([], rows), undefined as unknown as Album)!.body.markup);

  test("what a report begins with", () => {
    const told = (...rows: readonly Rating[]): string | undefined => sentence(input([], rows), "ratings");
    expect(told(rating("heat", 0.5), rating("current", 0.7))).toBe("Everything is inside its rating; the fullest is current of q, at 70 % of its limit.");
    expect(told(rating("heat", 1.2))).toBe("1 of 1 rating is exceeded: heat.");
    expect(told(rating("heat", 1.2), rating("current", 1))).toBe("1 of 2 ratings is exceeded: heat.");
    const four = ["a", "b", "c", "d", "a"].map((what) => rating(what, 2));
    expect(told(...four)).toBe("5 of 5 ratings are exceeded: a, b and c.");
  });

  test("what their section says", () => {
    expect(page(rating("heat", 0.5))).toBe("Nothing exceeds its limit. The one limit is well within; the fullest is heat of q, at 50 % of its limit.");
    expect(page(rating("heat", 0.5), rating("current", 0.7))).toBe("Nothing exceeds its limit. All 2 limits are well within; the fullest is current of q, at 70 % of its limit.");
    expect(page(rating("heat", 0.9), rating("current", 0.7))).toMatch(/^Nothing exceeds its limit\. The other one is well within; the fullest is current of q, at 70 % of its limit\. .* Close: more than 80 % of the limit\./);
    expect(page(rating("heat", 1.5), rating("current", 0.7), rating("volts", 0.6))).toMatch(/^1 of 3 limits is exceeded\. The other 2 are well within;/);
    expect(page(rating("heat", 1.5), rating("current", 1.1))).toMatch(/^2 of 2 limits are exceeded\. what where/);
    expect(wordsOf(limits(input([], [rating("heat", 0.5)]), undefined as unknown as Album)!.body.markup)).toContain(" 1 limit ");
  });

  test("what is asked of a committee", () => {
    const asked = (facts: ReportInput): string => wordsOf(/What is asked of the committee[^]*?<\/ul>/.exec(summaryPage(facts))![0]);
    expect(asked(input([], [rating("heat", 1.2)]))).toContain("Not to have it built before 1 rating that is exceeded is mended: heat of q.");
    expect(asked(input([], [rating("heat", 1.2), rating("current", 2)]))).toContain("Not to have it built before 2 ratings that are exceeded are mended: heat of q and current of q.");
    expect(asked(input([promise("x", false), promise("y", true)]))).toMatch(/or what should give way: “x”\. To agree to what is promised: y\. To agree to the opening hours/);
    expect(asked(input([promise("x", false)]))).toContain("To say whether these are the right promises to visitors.");
    expect(asked(plain)).toContain("To say what visitors should be promised");
  });
});

describe("of returns", () => {
  const repeating = (shares: readonly number[], echoes: Figures["repeat"]["echoes"] = []): ReportInput => ({
    ...plain,
    figures: { ...plain.figures, repeat: { ...plain.figures.repeat, returns: shares.map((share, i) => ({ afterSeconds: 600 * (i + 1), share })), echoes } },
  });
  const echoes = [{ afterSeconds: 900, share: 0.3 }, { afterSeconds: 1800, share: 0.5 }, { afterSeconds: 2700, share: 0.5 }, { afterSeconds: 3600, share: 0.4 }];

  test("the strongest echo, the first of equal ones", () => {
    expect(echoesInWords({ echoes })).toEqual(["There are 4 return times up to 3 h at which the same scene is met unusually often, most of all 30 min with 50 %."]);
    expect(echoesInWords({ echoes: echoes.slice(3) })).toEqual(["There is one return time up to 3 h at which the same scene is met unusually often, most of all 1 h with 40 %."]);
    expect(echoesInWords({ echoes: [] })).toEqual([]);
  });

  test("it is told at the beginning where it is more than the first return", () => {
    expect(sentence(repeating([0.2, 0.9], echoes), "repeats")).toMatch(/; coming back after 10 min, 20 % meet the same picture; after 30 min 50 % do\.$/);
    expect(sentence(repeating([0.5, 0.9], echoes), "repeats")).toMatch(/; coming back after 10 min, 50 % meet the same picture\.$/);
    expect(sentence(repeating([0, 0.9]), "repeats")).toMatch(/; coming back after 10 min, nobody meets the same picture\.$/);
  });

  test("the first return that is defined, and what stays see; nothing, where nobody can come back", () => {
    const seen = (repeatShare: number | null, shares: readonly (number | null)[]): string | undefined => {
      const returns = shares.map((share, i) => ({ afterSeconds: 600 * (i + 1), share }));
      const visit = { ...plain.figures.visit, repeatShare };
      return sentence({ ...plain, figures: { ...plain.figures, visit, repeat: { ...plain.figures.repeat, returns, echoes: [] } } }, "repeats");
    };
    expect(seen(0.25, [null, 0.4])).toBe("Of visitors who stay 5 min, 25 % see a picture twice; coming back after 20 min, 40 % meet the same picture.");
    expect(seen(0.004, [null])).toBe("Of visitors who stay 5 min, 0.4 % see a picture twice.");
    expect(seen(0, [])).toBe("Of visitors who stay 5 min, none see a picture twice.");
    expect(seen(null, [null])).toBe("Nobody can come back while it is open: the openings are too short.");
  });

  test("mornings are alike from nine tenths of the first hour on, and unlike up to a fifth", () => {
    const spells = (...minutes: number[]): Day["spells"] => minutes.map((length, i) => ({ scene: i % 2, length: length * MINUTE }));
    // scene 0 for an hour and 1 for another; the next day 0 for so many minutes, 1 to the end of the hour, 0 for the other
    const morning = (alike: number): string | undefined => {
      const days = [{ gap: 0, spells: spells(60, 60) }, { gap: 22 * HOUR, spells: spells(alike, 60 - alike, 60).filter(({ length }) => length > 0) }];
      return verdictsOf({ ...plain, record: recordOf(days) }).filter(({ section }) => section === "repeats")[1]?.sentence;
    };
    expect(morning(54)).toBe("Every morning begins much like the one before: the first hour shows what the day before showed for 90 % of the time.");
    expect(morning(53)).toBe("Mornings are partly alike: the first hour shows what the day before showed for 88.3 % of the time.");
    expect(morning(13)).toMatch(/^Mornings are partly alike/);
    expect(morning(12)).toBe("No two mornings are alike: the first hour shows what the day before showed for 20 % of the time.");
  });
});

test("of lights: always some, or for how much of the time none", () => {
  const lit = (min: number, max: number, dark: number): string | undefined =>
    sentence({ ...plain, figures: { ...plain.figures, lit: { min, max, mean: 1.25, shares: [dark, 1 - dark, 0] } } }, "lit");
  expect(lit(1, 2, 0)).toBe("There are always lights on: 1 to 2 of 2 houses.");
  expect(lit(2, 2, 0)).toBe("There are always lights on: 2 of 2 houses.");
  expect(lit(0, 2, 0.3)).toBe("Not always is there light: for 30 % of the time every house is dark. On average 1.25 of 2 are lit.");
  expect(lit(0, 0, 1)).toBe("No house is ever lit.");
});
