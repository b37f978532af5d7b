/** A small reader of value change dumps, by the grammar of IEEE 1364-2005, 18.2: what each signal is from which time on. */
export interface Dump {
  readonly timescale: string;
  /** By full name, such as "display.quay.step": changes as [time, value], the initial value first. */
  readonly signals: ReadonlyMap<string, (readonly [time: number, value: string])[]>;
}

export function readVcd(text: string): Dump {
  const tokens = text.split(/\s+/).filter((token) => token !== "");
  const byCode = new Map<string, string[]>();
  const signals = new Map<string, [number, string][]>();
  const scopes: string[] = [];
  let timescale = "";
  let i = 0;
  const section = (): string[] => {
    const end = tokens.indexOf("$end", i);
    if (end < 0) throw new Error("a section does not end");
    const words = tokens.slice(i, end);
    i = end + 1;
    return words;
  };
  for (let open = true; open; ) {
    const keyword = tokens[i++]!;
    const words = section();
    if (keyword === "$timescale") timescale = words.join(" ");
    else if (keyword === "$scope") scopes.push(words[1]!);
    else if (keyword === "$upscope") scopes.pop();
    else if (keyword === "$enddefinitions") open = false;
    else if (keyword === "$var") {
      const [, , code, name] = words;
      const full = [...scopes, name].join(".");
      if (signals.has(full)) throw new Error(`${full} is there twice`);
      signals.set(full, []);
      byCode.set(code!, [...(byCode.get(code!) ?? []), full]);
    }
  }
  let time = -1;
  const change = (code: string, value: string): void => {
    const names = byCode.get(code);
    if (names === undefined) throw new Error(`unknown code ${code}`);
    for (const name of names) signals.get(name)!.push([time, value]);
  };
  for (; i < tokens.length; ) {
    const token = tokens[i++]!;
    if (token.startsWith("#")) {
      const next = Number(token.slice(1));
      if (next < time) throw new Error("time runs backwards");
      time = next;
    } else if (token === "$dumpvars" || token === "$end") continue;
    else if (/^[bB]/.test(token)) change(tokens[i++]!, token.slice(1));
    else if (/^[01xXzZ]/.test(token)) change(token.slice(1), token[0]!);
    else throw new Error(`what is ${token}?`);
  }
  return { timescale, signals };
}

/** The value of a signal at a time, after all changes of that time. */
export function valueAt(changes: readonly (readonly [number, string])[], time: number): string {
  let value = "x";
  for (const [t, v] of changes) {
    if (t > time) break;
    value = v;
  }
  return value;
}

/** The values of a signal at moments that only rise; quicker than {@link valueAt} for many of them. */
export function follow(changes: readonly (readonly [number, string])[]): (time: number) => string {
  let next = 0;
  let value = "x";
  return (time) => {
    for (; next < changes.length && changes[next]![0] <= time; next++) value = changes[next]![1];
    return value;
  };
}
