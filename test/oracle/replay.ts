import type { RunListener } from "../../sim/engine/listener.js";
import type { SceneRecord } from "../../sim/engine/record.js";

/** Tells a listener a finished record again, in the order that the listener is promised. */
export function replay(record: SceneRecord, listener: RunListener): void {
  const { trace, openings, spellStart, spellScene, scenes } = record;
  let move = 0;
  const movesUntil = (time: number): void => {
    for (; trace !== null && move < trace.time.length && trace.time[move]! <= time; move++) {
      listener.moves(trace.time[move]!, trace.board[move]!, trace.step[move]!);
    }
  };
  openings.forEach((opening, number) => {
    movesUntil(opening.from - 1);
    listener.opens(opening, number);
    for (let i = opening.first; i < opening.end; i++) {
      movesUntil(spellStart[i]!);
      listener.spell(spellStart[i]!, spellScene[i]!, scenes.lit(spellScene[i]!));
    }
    movesUntil(opening.until - 1);
    listener.closes(opening, number);
  });
  movesUntil(Infinity);
}
