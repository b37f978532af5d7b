import type { Reducer, State } from "./state.js";

/** The one place where state lies. Panels read it, change it by reducers, and watch the parts they show. */
export interface Store {
  readonly state: State;
  update(reducer: Reducer): void;
  /** Calls the listener now, and whenever what it selects has become another thing. */
  watch<Part>(select: (state: State) => Part, listener: (part: Part) => void): void;
}

export function createStore(initial: State): Store {
  let state = initial;
  const watchers: (() => void)[] = [];
  return {
    get state() {
      return state;
    },
    update(reducer) {
      const next = reducer(state);
      if (next === state) return;
      state = next;
      for (const notify of [...watchers]) notify();
    },
    watch(select, listener) {
      let part = select(state);
      watchers.push(() => {
        const next = select(state);
        if (Object.is(next, part)) return;
        part = next;
        listener(next);
      });
      listener(part);
    },
  };
}

/** A panel: fills an element of the page, and follows the store. It knows of no other panel. */
export type MakePanel = (root: HTMLElement, store: Store) => void;
