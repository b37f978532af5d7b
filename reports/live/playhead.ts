import { spokenDuration } from "../../sim/units/text.js";
import { toMicros, type Seconds } from "../../sim/units/time.js";
import type { Computed } from "./computed.js";
import { comesBack, spellFrom, within, type Moment } from "./moments.js";
import { clockText, momentText, openingText } from "./momenttext.js";
import { look, play, proceed } from "./state.js";
import type { Store } from "./store.js";

/** The moment that is looked at, and all ways of going to another. */
export interface Playhead {
  /** To the moment nearest to this one, which is told. */
  readonly lookAt: (to: Moment) => void;
  /** So many pictures on, or back. */
  readonly leap: (steps: number) => void;
  /** To where the present picture comes back. */
  readonly findAgain: () => void;
  readonly toOpening: (opening: number) => void;
  /** To the beginning of the opening, or to its end. */
  readonly toEdge: (end: boolean) => void;
  /** Plays from where it is, from the beginning where all has been shown; or pauses. */
  readonly togglePlaying: () => void;
  /** While it plays: so many seconds of the watch have passed. */
  readonly pass: (seconds: Seconds) => void;
}

/** The playhead of what `shown` gives, if anything; what is to be read of a move goes to `say`. */
export function playhead(store: Store, shown: () => Computed | null, say: (text: string) => void): Playhead {
  const moment = (): Moment => ({ opening: store.state.opening, time: store.state.time });
  const lookAt = (to: Moment): void => {
    const { record } = shown() ?? {};
    if (record === undefined) return;
    const at = within(record, to);
    store.update(look(at.opening, at.time));
    say(momentText(record, at));
  };
  return {
    lookAt,
    leap: (steps) => {
      const { record } = shown() ?? {};
      const to = record === undefined ? null : spellFrom(record, moment(), steps);
      if (to === null) say(steps > 0 ? "No change comes after this one in the run." : "This is the first picture of the run.");
      else lookAt(to);
    },
    findAgain: () => {
      const { record } = shown() ?? {};
      if (record === undefined) return;
      const to = comesBack(record, moment());
      if (to === null) {
        say(`This very picture does not come back up to the end of the run (opening ${record.openings.length}).`);
        return;
      }
      store.update(look(to.opening, to.time));
      say(`It comes back after ${spokenDuration(to.afterSeconds)}: ${openingText(record, to.opening)}, ${clockText(to.time)}. Here it is.`);
    },
    toOpening: (opening) => lookAt({ opening, time: store.state.time }),
    toEdge: (end) => lookAt({ opening: store.state.opening, time: end ? Infinity : 0 }),
    togglePlaying: () => {
      const { record } = shown() ?? {};
      if (record === undefined) return;
      const start = !store.state.playing;
      const last = within(record, { opening: record.openings.length - 1, time: Infinity });
      if (start && store.state.opening === last.opening && store.state.time === last.time) {
        store.update(look(0, within(record, { opening: 0, time: 0 }).time));
      }
      store.update(play(start));
      say(start ? "" : momentText(record, moment()));
    },
    pass: (seconds) => {
      const { record } = shown() ?? {};
      if (record === undefined) return;
      const { opening, time, speed } = store.state;
      const to = time + toMicros(seconds * speed);
      const last = within(record, { opening, time: Infinity });
      if (to <= last.time) store.update(proceed(opening, to));
      else if (opening + 1 < record.openings.length) store.update(proceed(opening + 1, within(record, { opening: opening + 1, time: 0 }).time));
      else {
        store.update(look(opening, last.time));
        say("The run is over.");
      }
    },
  };
}
