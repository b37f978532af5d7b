import type { RunListener } from "../../sim/engine/listener.js";

/** Turns what it hears of a run into the text of a file, piece by piece. */
export interface Exporter extends RunListener {
  /** The text since the last call; what it returns is forgotten. */
  take(): string;
  /** Call once, after the run and before the last `take`. */
  ends(): void;
}
