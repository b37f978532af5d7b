import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { schemaTexts } from "../../reports/schema.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { demo, demos, project } from "./command.js";
import { faults, type Schema } from "./jsonschema.js";

const written = await readFile(join(project, "scenarios/scenario.schema.json"), "utf8");

const schema = JSON.parse(written) as Schema;

const texts = await Promise.all([...demos, "starter" as const].map(async (name) => [name, await readFile(demo(name), "utf8")] as const));

const readme = await readFile(join(project, "README.md"), "utf8");

/** What the table under a heading of README.md has in its first column: keys and kinds, those of one row together. */
function told(heading: string): string[] {
  const [, section = ""] = readme.split(`\n### ${heading}\n`);
  const rows = section.split(/\n#+ /)[0]!.matchAll(/^\| (`.*?`) \|/gm);
  return Array.from(rows, ([, names]) => [...names!.matchAll(/`(\w+)/g)].map(([, name]) => name!)).flat();
}

describe("the schema for editors", () => {
  test("is the one that the reader works by", () => {
    expect(written, "write it anew with: npm run schema").toBe(schemaTexts().get("scenario.schema.json"));
  });

  test.each(texts)("accepts %s", (_, text) => {
    expect(faults(schema, parse(text))).toEqual([]);
    // and so does the reader
    expect(parseScenario(text, "demo.yaml").boards.length).toBeGreaterThan(0);
  });

  test.each<[what: string, from: string, to: string]>([
    ["a key that nobody knows", "title:", "colour: red\ntitle:"],
    ["a missing title", "title: Twin Boards", ""],
    ["another format", "lampdrift: 1", "lampdrift: 2"],
    ["hours that are no text", 'from: "10:00"', "from: 10"],
    ["an unknown kind of counter", "kind: ring", "kind: rung"],
    ["steps that are no number", "steps: 8", "steps: eight"],
    ["a single step", "steps: 8", "steps: 1"],
    ["a mistyped key deep down", "leakage:", "leekage:"],
    ["a list of houses", "  north1: { zone: north }", "  north1: [north]"],
    ["a word that is none of its choice", "in: rb", "in: rc"],
  ])("refuses %s, as the reader does", (_, from, to) => {
    const text = texts.find(([name]) => name === "twin-boards")![1];
    expect(text).toContain(from);
    const broken = text.replace(from, to);
    expect(faults(schema, parse(broken))).not.toEqual([]);
    expect(() => parseScenario(broken, "broken.yaml")).toThrow();
  });

  test.each<[what: string, text: string]>([
    ["that changes one value deep down", "base: a.yaml\nboards: { quay: { timer: { setTo: 3 min } } }"],
    ["that takes things away", "base: a.yaml\npromises: null\nboards: { hill: null, quay: { timer: { jitter: null } } }"],
    ["that adds a board and puts lists in place of others", "base: a.yaml\nopening: { days: [sat] }\nboards: { new: { timer: { kind: quartz, step: 5 }, counter: { kind: ring, steps: 2 }, outputs: { 0: inn } } }"],
  ])("accepts a variant %s", (_, text) => {
    expect(faults(schema, parse(text))).toEqual([]);
  });

  test.each<[what: string, text: string]>([
    ["a variant without its base", "boards: { quay: { timer: { setTo: 3 min } } }"],
    ["a variant with a mistyped key", "base: a.yaml\nboards: { quay: { timer: { setto: 3 min } } }"],
    ["a variant with a value of the wrong kind", "base: a.yaml\nboards: { quay: { counter: { steps: eight } } }"],
  ])("refuses %s", (_, text) => {
    expect(faults(schema, parse(text))).not.toEqual([]);
  });

  test("names every key of the file, with what it accepts", () => {
    const [whole] = schema["anyOf"] as [Schema, Schema];
    const properties = (at: Schema): Record<string, Schema> => at["properties"] as Record<string, Schema>;
    expect(Object.keys(properties(whole)).sort(), "keys in README.md, Sections").toEqual(told("Sections").sort());
    expect([...(whole["required"] as string[])].sort()).toEqual(["boards", "houses", "lampdrift", "title"]);
    expect(whole["additionalProperties"]).toBe(false);
    expect(Object.keys(properties(properties(whole)["opening"]!))).toEqual(["days", "from", "until", "overnight", "run"]);
    const board = properties(whole)["boards"]!["additionalProperties"] as Schema;
    expect(board["required"]).toEqual(["timer", "counter", "outputs"]);
    const kinds = (key: string): unknown[] => {
      const choices = (properties(board)[key]!["oneOf"] ?? properties(board)[key]!["anyOf"]) as Schema[];
      return choices.map((choice) => properties(choice)["kind"]!["const"]);
    };
    expect(kinds("timer"), "kinds in README.md, Timers").toEqual(told("Timers"));
    expect(kinds("counter"), "kinds in README.md, Counters").toEqual(told("Counters"));
    const promise = properties(whole)["promises"]!["items"] as Schema;
    expect(Object.keys(properties(promise)), "promises in README.md, Promises").toEqual(told("Promises"));
  });
});
