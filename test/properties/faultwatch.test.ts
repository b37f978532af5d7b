import { describe, expect, test } from "vitest";
import { simulator } from "../../sim/engine/simulate.js";
import { diagnose, tellingHouses, type Fault, type FaultTable, type Observation } from "../../sim/faults/index.js";
import { Light, TurnShelf, turnsIn, type Turns } from "../../sim/faults/light.js";
import { LoneFaults } from "../../sim/faults/lone.js";
import { agrees, paceSeen } from "../../sim/faults/observations.js";
import type { FaultyDisplay } from "../../sim/faults/planted.js";
import { possibleFaults } from "../../sim/faults/possible.js";
import { watchTimes } from "../../sim/faults/telltime.js";
import { companions, lightedBy, timelessHouses } from "../../sim/faults/unsteady.js";
import { plantedIn } from "./demotables.js";
import { often, thorough } from "../thorough.js";
import { everySo, mostFaults, some } from "./mostfaults.js";

/**
 * All that somebody sees who watches a display from switch-on: how each house stays, and every ten seconds whether it is
 * lit. Of houses that no watch can follow, where they woke elsewhere, only what they do all the time or in a whole round.
 */
function seenOf(table: FaultTable, { scenario, disorder }: FaultyDisplay, until: number, elsewhere: boolean): Observation[] {
  const light = new Light(table.healthy.length, turnsIn(simulator(scenario, disorder)()).map((turns) => new TurnShelf().keep(turns)));
  const timeless = timelessHouses(table);
  const ofHouses = table.scenario.houses.flatMap((_, house): Observation[] => {
    const stay = light.stays(house, until);
    const whole = Math.max(0, ...lightedBy(table.scenario, house).map((b) => table.rounds[b]!)) <= until;
    const always = light.stays(house, light.length) === stay && stay !== "changing";
    const all: Observation[] = elsewhere && timeless.has(house) && !whole && !always ? [] : [{ kind: stay, house, until, whileLit: null }];
    if (timeless.has(house)) {
      if (!whole) return all;
      const meanwhile = companions(table.scenario, house).flatMap((whileLit): Observation[] => {
        const kind = light.staysWhile(house, whileLit, until);
        return kind === "never" ? [] : [{ kind, house, until, whileLit }];
      });
      return [...all, ...meanwhile];
    }
    const moments = Array.from({ length: Math.floor(until / 10e6) }, (_each, i) => i * 10e6);
    return [...all, ...moments.map((at): Observation => ({ kind: light.litAt(house, at) ? "lit-at" : "dark-at", house, at }))];
  });
  const ofBoards = [...table.timeless].flatMap((board): Observation[] => {
    const kind = table.rounds[board]! <= until ? paceSeen(table, board, until, light) : null;
    return kind === null || tellingHouses(table.scenario, board).length === 0 ? [] : [{ kind, board, until }];
  });
  return [...ofHouses, ...ofBoards];
}

/** Of what was seen, as much as contradicts every light that the whole of it contradicts: the rest changes nothing. */
function telling(table: FaultTable, seen: readonly Observation[]): Observation[] {
  const lights = [table.healthy, ...table.groups.flatMap(({ lights: some }) => some)];
  const needed = new Set<Observation>();
  for (const light of lights) {
    if ([...needed].some((one) => !agrees(table, light, one))) continue;
    const against = seen.find((one) => !agrees(table, light, one));
    if (against !== undefined) needed.add(against);
  }
  return [...needed];
}

describe.each(plantedIn)("how long to watch $name", ({ table }) => {
  const times = watchTimes(table);
  const faults = possibleFaults(table.scenario);
  const groupOf = (fault: Fault): number => table.groups.findIndex(({ faults: alike }) => alike.some(({ text }) => text === fault.text));

  test("whoever watches for the time stated is sure: that group alone, or with those that are named", () => {
    for (const fault of everySo(3, mostFaults(table.scenario), 0)) {
      const g = groupOf(fault);
      const { until, alike, hidden } = times[g]!;
      for (const display of some(fault.displays)) {
        const found = diagnose(table, telling(table, seenOf(table, display, until, false)), until);
        const left = found.candidates.slice(0, found.left).map(({ faults: some }) => groupOf(some[0]!));
        expect(found.candidates[left.indexOf(g)]?.contradictions, fault.text).toBe(0);
        expect(left.filter((other) => other !== g && !alike.includes(other)), `${fault.text} ${until / 60e6} min`).toEqual([]);
        if (!hidden) expect(found.healthy, fault.text).toBe(false);
      }
    }
  });

  test("after a round of all boards that is so on another morning, too", () => {
    const round = Math.max(0, ...[...table.timeless].map((b) => table.rounds[b]!));
    for (const fault of everySo(3, mostFaults({ ...table.scenario, seed: "another morning" }), 1)) {
      // nobody can foretell when a loose joint opens
      if (fault.kind === "restarts") continue;
      const g = groupOf(fault);
      const { alike, hidden } = times[g]!;
      const until = Math.max(round, times[g]!.until);
      for (const display of some(fault.displays)) {
        const found = diagnose(table, telling(table, seenOf(table, display, until, true)), until);
        const left = found.candidates.slice(0, found.left).map(({ faults: some }) => groupOf(some[0]!));
        expect(found.candidates[left.indexOf(g)]?.contradictions, fault.text).toBe(0);
        expect(left.filter((other) => other !== g && !alike.includes(other)), fault.text).toEqual([]);
        if (!hidden) expect(found.healthy, fault.text).toBe(false);
      }
    }
  });

  test("no two groups of a board that wakes anywhere show the same on any two mornings, for the time stated", () => {
    const { scenario, timeless } = table;
    const anywhere = [...timeless].filter((b) => scenario.boards[b]!.counter.powerUp === "anywhere");
    const mornings = [...Array(often(6, 16)).keys()].map((m) => {
      const morning = { ...scenario, seed: `morning ${m}` };
      return { lone: new LoneFaults(morning, new TurnShelf()), all: possibleFaults(morning) };
    });
    for (const b of anywhere) {
      const own = tellingHouses(scenario, b);
      const groups = new Map<number, number>();
      for (const [f, fault] of faults.entries()) if (fault.board === scenario.boards[b]!.id) groups.set(groupOf(fault), f);
      // for each group the turns of the board's houses on many mornings
      const views = new Map([...groups.keys()].map((g) => [g, [] as Turns[][]]));
      for (const { lone, all } of mornings) {
        for (const [g, f] of groups) for (const display of thorough ? all[f]!.displays : some(all[f]!.displays)) views.get(g)!.push(own.map((house) => lone.lightOf(b, display).turnsOf(house)));
      }
      const known = new Map<string, Set<string>>();
      const shown = (g: number, until: number): Set<string> => {
        const key = `${g} ${until}`;
        const texts = known.get(key) ?? new Set(views.get(g)!.map((houses) => houses.map((turns) => turns.filter((turn) => turn < until).join()).join(";")));
        known.set(key, texts);
        return texts;
      };
      expect(shown([...groups.keys()][0]!, table.healthy.length).size).toBeGreaterThan(often(2, 5));
      const confused: string[] = [];
      for (const g of groups.keys()) {
        const { until, alike, hidden } = times[g]!;
        if (hidden) continue;
        const here = shown(g, until);
        for (const h of groups.keys()) {
          if (h === g || alike.includes(h)) continue;
          const both = [...shown(h, until)].some((view) => here.has(view));
          if (both) confused.push(`${table.groups[g]!.faults[0]!.text} ${table.groups[h]!.faults[0]!.text}`);
        }
      }
      expect(confused).toEqual([]);
    }
  });
});
