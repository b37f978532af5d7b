import type { FileText } from "../page/embedded.js";
import type { Photo } from "../pictures/photo.js";
import type { Micros, Seconds } from "../../sim/units/time.js";

/** Everything that can be changed in the page. What is shown follows from it by pure functions: see `computed.ts`. */
export interface State {
  /** The plan: the file as it was opened or saved last, and those it is based on, the next one below it first. */
  readonly planned: readonly [FileText, ...FileText[]];
  /** Pictures at hand: that of the page, or those that were opened. */
  readonly photos: readonly Photo[];
  /** What stands in the text panel. */
  readonly text: string;
  /** Step times tried out, by board id; boards that are not in it stay as the text has them. */
  readonly settings: ReadonlyMap<string, Seconds>;
  /** Opening that is looked at, from 0. */
  readonly opening: number;
  /** Time of day that is looked at, inside the opening. */
  readonly time: Micros;
  readonly playing: boolean;
  /** Seconds of the display in one second of the watch. */
  readonly speed: number;
  /** Id of the house whose own light is shown. */
  readonly pickedHouse: string | null;
  /** Whether all houses carry their names. */
  readonly names: boolean;
}

export type Reducer = (state: State) => State;

/** The page at its beginning. */
export function initialState(planned: State["planned"], photos: State["photos"]): State {
  return {
    planned,
    photos,
    text: planned[0].text,
    settings: new Map(),
    opening: 0,
    time: 0,
    playing: false,
    speed: 60,
    pickedHouse: null,
    names: false,
  };
}

// ---- what can be done: pure reducers ----

/** Another file is opened: it is the plan now. */
export const open = (planned: State["planned"], photos: State["photos"]): Reducer => (state) => ({ ...initialState(planned, photos), speed: state.speed });

/** Pictures are opened by themselves: what the text names is looked for among them first. */
export const addPhotos = (photos: State["photos"]): Reducer => (state) => ({ ...state, photos: [...photos, ...state.photos] });

/** The text is the plan now: it was saved under this name. */
export const saved = (file: string): Reducer => (state) => ({
  ...state,
  planned: [{ file, text: state.text }, ...state.planned.slice(1)],
});

export const edit = (text: string): Reducer => (state) => ({ ...state, text });

/** A knob is turned: board `id` is tried with this step time. */
export const turn = (id: string, seconds: Seconds): Reducer => (state) => ({ ...state, settings: new Map(state.settings).set(id, seconds) });

/** Board `id` is as the text has it again. */
export const turnBack = (id: string): Reducer => (state) => {
  if (!state.settings.has(id)) return state;
  const settings = new Map(state.settings);
  settings.delete(id);
  return { ...state, settings };
};

/** Nothing is tried any more: all knobs, and the text, as planned. */
export const backToPlan: Reducer = (state) => ({ ...state, settings: new Map(), text: state.planned[0].text });

/** Looks at another moment; whoever looks for it does not want it to run away. */
export const look = (opening: number, time: Micros): Reducer => (state) => ({ ...state, opening, time, playing: false });

export const play = (playing: boolean): Reducer => (state) => ({ ...state, playing });

/** The moment that playing has come to. */
export const proceed = (opening: number, time: Micros): Reducer => (state) => ({ ...state, opening, time });

export const setSpeed = (speed: number): Reducer => (state) => ({ ...state, speed });

export const pick = (pickedHouse: string | null): Reducer => (state) => ({ ...state, pickedHouse });

export const showNames = (names: boolean): Reducer => (state) => ({ ...state, names });
