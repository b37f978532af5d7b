import type { Board, Scenario } from "../../../sim/model/scenario.js";
import type { AstableTimer, Leakage, Part, Timer } from "../../../sim/model/timer.js";
import { formatClock } from "../../../sim/units/clock.js";
import { formatPart } from "../../../sim/units/part.js";
import { amps, celsius, drift, duration, farads, kelvins, ohms, ratio, tempco, volts } from "../../../sim/units/quantities.js";
import type { Quantity } from "../../../sim/units/quantity.js";
import { openingInWords, withUnit } from "../../words.js";
import { html } from "../html.js";
import { fold, table, type MakeSection } from "../section.js";
import { toSeconds } from "../../../sim/units/time.js";

/** Every value that was used, and where those come from that nobody wrote down. */
export const assumed: MakeSection = ({ scenario, version }) => ({
  id: "assumed",
  heading: "What was assumed",
  body: html`<p>Computed by lampdrift ${version} from <code>${scenario.file}</code> with the seed “${scenario.seed}”.</p>
${fold("Values of the scenario", html`<h3>Values of the scenario</h3>\n${table(["what", "value"], valuesOf(scenario))}`)}${fold(
    "Values that the file does not give",
    html`<h3>Values that the file does not give</h3>\n${
      scenario.assumptions.length === 0 ? html`<p>None.</p>\n` : table(["where", "value", "source"], together(scenario.assumptions))
    }`,
  )}`,
});

/** What was taken for granted in several places with one value from one source stands once. */
function together(assumptions: Scenario["assumptions"]): string[][] {
  const rows = new Map<string, { readonly paths: string[]; readonly value: string; readonly source: string }>();
  for (const { path, value, source } of assumptions) {
    const row = rows.get(`${value}\n${source}`) ?? { paths: [], value, source };
    row.paths.push(path);
    rows.set(`${value}\n${source}`, row);
  }
  return [...rows.values()].map(({ paths, value, source }) => [paths.join(", "), value, source]);
}

function valuesOf(scenario: Scenario): string[][] {
  const { opening, room, visitors, supply, lamps, boards } = scenario;
  return [
    ["opening", openingInWords(opening)],
    [
      "room",
      `${celsius.format(room.mean)} on the mean${
        room.swing === 0 ? "" : `, ${kelvins.format(room.swing)} up and down, warmest at ${formatClock(room.warmest)}`
      }`,
    ],
    ["visitors", `stay ${duration.format(toSeconds(visitors.stay))}; come back after ` +
      visitors.returns.map((t) => duration.format(toSeconds(t))).join(", ")],
    ["supply", supplyInWords(supply)],
    ["tolerances", scenario.toleranceShape === "normal" ? "normal, the limit being three standard " +
      "deviations" : "rectangular, between the limits"],
    ...lamps.map(({ id, amps: current, volts: rated }) => [
      `lamp ${id}`,
      `${withUnit(current, "A")}${rated === null ? "" : ` at ${volts.format(rated)}`}`,
    ]),
    ...boards.map((board) => [`board ${board.id}`, boardInWords(board, boards)]),
  ];
}

function supplyInWords({ volts: boardVolts, limit, regulated, regulator, glitches }: Scenario["supply"]): string {
  return [
    regulator === null ? volts.format(boardVolts) : `${volts.format(regulator.input)}, a regulator giving ${volts.format(boardVolts)}`,
    limit === null ? "no limit given" : `limit ${amps.format(limit)}`,
    regulated || regulator !== null ? "regulated" : "not regulated",
    `${glitches} stray clock pulses an hour and board`,
  ].join(", ");
}

function boardInWords({ timer, driver, counter }: Board, boards: readonly Board[]): string {
  return [...timerValues(timer, boards), `counter ${counter.kind}, wakes up ${counter.powerUp === "reset" ? "at its first step" : "anywhere"}`, `driver ${driver.kind}`].join("; ");
}

function timerValues(timer: Timer, boards: readonly Board[]): string[] {
  if (timer.kind === "carry") return [`clocked by the carry of ${boards[timer.from]!.id}`];
  const moving = [
    ...(timer.jitter === 0 ? [] : [`jitter ${ratio.format(timer.jitter)}`]),
    ...(timer.drift === 0 ? [] : [`drift ${drift.format(timer.drift)}`]),
  ];
  switch (timer.kind) {
    case "quartz":
      return [`quartz, step ${duration.format(timer.step)} ±${ratio.format(timer.tolerance)}`, ...moving];
    case "measured":
      return [
        `measured, step ${duration.format(timer.step)} ±${duration.format(timer.reading)}`,
        ...(timer.tempco === 0 ? [] : [tempco.format(timer.tempco)]),
        ...moving,
      ];
    case "astable":
      return [...astableValues(timer), ...moving];
  }
}

function astableValues({ chip, divide, ra, rb, c, leakage, trimmer }: AstableTimer): string[] {
  return [
    `${chip ?? "ideal"} timer of the 555 type${divide === 1 ? "" : `, divided by ${divide}`}`,
    `RA ${part(ra, ohms)}`,
    `RB ${part(rb, ohms)}`,
    `C ${part(c, farads)}, leakage ${leakageInWords(leakage)}`,
    ...(trimmer === null
      ? []
      : [
          `trimmer ${part(trimmer.part, ohms)}, ${trimmer.taper}, in ${trimmer.in}, ` +
            (trimmer.setting.kind === "dial"
              ? `dial ${ratio.format(trimmer.setting.dial)}`
              : `set to ${duration.format(trimmer.setting.step)} ±${duration.format(trimmer.setting.reading)}`),
        ]),
  ];
}

function part({ value, minus, plus, tempco: perKelvin, type }: Part, quantity: Quantity): string {
  const marking = formatPart(value, minus, plus, quantity);
  return `${marking}${type === null ? "" : ` ${type}`}${perKelvin === 0 ? "" : `, ${tempco.format(perKelvin)}`}`;
}

function leakageInWords({ typical, limit }: Leakage): string {
  return limit === null ? amps.format(typical) : `${amps.format(typical)} typical, ${amps.format(limit)} at most`;
}
