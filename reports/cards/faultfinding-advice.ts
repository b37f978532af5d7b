import { houseName, type Fault } from "../../sim/faults/index.js";
import { channelName, driverName } from "../../sim/faults/names.js";
import { lampsAt, switchedTogether } from "../../sim/faults/outputs.js";
import type { Board, Scenario } from "../../sim/model/scenario.js";

/** What to touch to tell faults apart that look alike. All texts here: common practice, no source. */
interface Advice {
  readonly title: string;
  readonly text: string;
  /** Whether it serves for a group that has these faults. */
  readonly serves: (has: (part: Fault["spot"]["part"], kind?: Fault["kind"]) => boolean) => boolean;
}

/** In the order in which they stand on the card, where each has a letter. */
const ADVICE: readonly Advice[] = [
  {
    title: "Everything dark",
    text: "Is the supply plugged in, switched on, its lamp lit? Try its outlet with something else. Then the fuse, then the two leads " +
      "from the supply to the display.",
    serves: (has) => has("display supply"),
  },
  {
    title: "One board dark, or half of it",
    text:
      "Follow the plus and minus wires of the board, then the minus wire of each driver, to both ends; press plugs and chips home. " +
      "Swap the board's plug with that of a board that runs: a fault that goes along is in the lead.",
    serves: (has) => has("plus wire") || has("minus wire") || has("supply") || has("driver minus wire"),
  },
  {
    title: "Nothing changes",
    text:
      "Press the clock wire home at both ends, then the wire on reset, timer and counter. " +
      "Swap the timer with one from a board that runs, then the counter.",
    serves: (has) => has("clock wire") || has("clock") || has("reset"),
  },
  {
    title: "A dark pause in each round",
    text: "Press home the wire from the counter's output to its reset: without it the counter runs on through outputs that light nothing.",
    serves: (has) => has("reset wire"),
  },
  {
    title: "Steps too long or too short",
    text: "Turn the knob to the mark on the knob chart, switch off for as long as this card says, and time two steps; the first step " +
      "after switch-on does not count.",
    serves: (has) => has("knob"),
  },
  {
    title: "A knob that does nothing",
    text: "Turn it from end to end twenty times: that often cleans the track. Steps that stay long wherever it stands: change the " +
      "trimmer, then set it afresh.",
    serves: (has) => has("track"),
  },
  {
    title: "Steps slowly longer or shorter, no knob touched",
    text:
      "The timing capacitor comes first. Warm it with a finger: if steps become longer still, it leaks. Change it for a new one of " +
      "the same value and type, plus to plus, then time two steps; the first after switch-on does not count.",
    serves: (has) => has("capacitor"),
  },
  {
    title: "Two houses in each other's place",
    text: "Compare the wires at the driver with the wiring card, channel by channel, and swap the two that are wrong.",
    serves: (has) => has("channel wires"),
  },
  {
    title: "Two neighbours that light together",
    text:
      "Pull the wire of one house off its channel. If the other still lights at both times, the channels touch: look between their " +
      "pins for a bridge of solder, a bare end, a whisker of wire, and take it away.",
    serves: (has) => has("two channels"),
  },
  {
    title: "Begins elsewhere, or goes round another way",
    text:
      "Switch off for as long as this card says, and on again, three times. It begins elsewhere each time: press home the parts of " +
      "the start pulse (capacitor and resistor at reset). It lights other houses together than it should, or none: look at the gate " +
      "that leads back into the cycle and its wires.",
    serves: (has) => has("start") || has("register"),
  },
  {
    title: "Begins anew now and then",
    text: "Wiggle the board's plug, its supply wires and each chip in its socket, one after the other, while it runs: what makes it " +
      "begin anew is the loose one. Press it home or solder it afresh, switched off.",
    serves: (has) => has("joint"),
  },
  {
    title: "One house dark while its neighbours light",
    text:
      "Look along its wire from end to end, then its plus wire; press both home. Swap the lamp with one that works. Still dark: move " +
      "the wire to the next channel. If the house now lights with its new neighbours, wire and lamp are good, and the " +
      "old channel does not reach it.",
    serves: (has) => has("house wire") || has("house plus wire") || has("lamp"),
  },
  {
    title: "All houses of one output dark",
    text:
      "Press home the wire from the counter to the driver. Swap the driver with a like one, or move that wire and the houses' wires " +
      "to a free channel. If the houses light now, the old channel is dead; if not, it is the wire or the counter's output.",
    serves: (has) => has("input wire") || has("channel", "channel-open"),
  },
  {
    title: "Houses that never go dark",
    text:
      "Pull the wire from the driver's input and switch on. Lit still: change the driver. Dark: that wire touches another; look for " +
      "bare ends and solder bridges. Bridge nothing while there is power.",
    serves: (has) => has("channel", "channel-on"),
  },
];

const UNSEEN: Pick<Advice, "title" | "text"> = {
  title: "What cannot be seen",
  text:
    "A house with several lamps is only dimmer when one is out: look from near. A house that another light keeps lit hides a fault " +
    "of this one: unplug the other light, switch on, and watch again.",
};

/** All pieces of advice, in the order of their letters. */
export const ALL_ADVICE: readonly Pick<Advice, "title" | "text">[] = [...ADVICE, UNSEEN];

/** Which pieces of advice serve for faults that look alike, or that cannot be seen at all; by place among all. */
export function adviceFor(faults: readonly Fault[], unseen: boolean): number[] {
  if (unseen) return [ALL_ADVICE.indexOf(UNSEEN)];
  const has = (part: Fault["spot"]["part"], kind?: Fault["kind"]): boolean =>
    faults.some((fault) => fault.spot.part === part && (kind === undefined || fault.kind === kind));
  return ADVICE.flatMap(({ serves }, i) => (serves(has) ? [i] : []));
}

/** "1.2" for the second channel of the first package; "2" where each output has a driver of its own. */
function channelNumber(board: Board, output: number): string {
  return channelName(board, output).replace(/\D+/g, " ").trim().replace(" ", ".");
}

/**
 * Faults as things to look for, in their order: "wire output 3 to Inn". Where all that stands between an output and one
 * house looks alike, the house is named once.
 */
export function lookedFor(scenario: Scenario, board: Board, faults: readonly Fault[]): string[] {
  const loads = faults.flatMap(({ spot }) => (spot.part === "house wire" || spot.part === "lamp" ? [`${spot.output} ${spot.house}`] : []));
  const houses = new Set(faults.flatMap(({ spot }) => ("house" in spot ? [spot.house] : [])));
  const once = houses.size === 1 && new Set(loads).size === 1 && faults.some(({ spot }) => spot.part === "house wire");
  return faults.map((fault) => thing(scenario, board, fault, once));
}

function lampLookedFor(scenario: Scenario, board: Board, output: number, house: number, once: boolean): string {
  const name = `${houseName(scenario, house)}${switchedTogether(scenario, house) ? "" : ` on output ${output}`}`;
  if (lampsAt(scenario, scenario.boards.indexOf(board), output, house) > 1) return `one of the lamps of ${name}`;
  return once ? "lamp" : `lamp of ${name}`;
}

function thing(scenario: Scenario, board: Board, { kind, spot }: Fault, once: boolean): string {
  switch (spot.part) {
    case "house wire":
      return `wire output ${spot.output} to ${houseName(scenario, spot.house)}`;
    case "lamp":
      return lampLookedFor(scenario, board, spot.output, spot.house, once);
    case "house plus wire":
      return once ? "its plus wire" : `plus wire to ${houseName(scenario, spot.house)}`;
    case "input wire":
      return `wire counter ${spot.output} to driver`;
    case "channel":
      return `driver ${channelNumber(board, spot.output)} ${kind === "channel-on" ? `stuck on (output ${spot.output})` : "dead"}`;
    case "driver minus wire":
      return `minus wire of ${driverName(board, spot.place)}`;
    case "clock wire":
      return "clock wire to the counter";
    case "clock":
      return board.timer.kind === "carry" ? `no pulses from board ${scenario.boards[board.timer.from]!.id}` : "timer that gives no pulses";
    case "reset wire":
      return "wire from the counter's output to its reset";
    case "reset":
      return "counter held in reset";
    case "track":
      return "dirty track of the knob";
    case "capacitor":
      return kind === "cap-leaky" ? "leaky timing capacitor" : "timing capacitor that has aged";
    case "channel wires":
      return `wires of outputs ${spot.outputs.join(" and ")} swapped`;
    case "two channels":
      return `outputs ${spot.outputs.join(" and ")} touch`;
    case "start":
      return "part of the start pulse off";
    case "register":
      return "counter outside its cycle (gate that leads back)";
    case "joint":
      return "loose joint or plug in the board's supply";
    case "knob":
      return `knob turned towards ${spot.turned} steps`;
    case "plus wire":
    case "minus wire":
      return `${spot.part} of the board`;
    case "supply":
      return "supply of the board";
    case "display supply":
      return "supply of the whole display";
  }
}
