/**
 * Makes names that every reader of a value change dump takes: letters, digits and the underscore, not beginning with a
 * digit, each only once among those made by one call of this function.
 */
export function safeNames(): (name: string) => string {
  const taken = new Set<string>();
  return (name) => {
    const plain = name.replace(/[^A-Za-z0-9_]/g, "_").slice(0, 60);
    const base = /^[A-Za-z_]/.test(plain) ? plain : `_${plain}`;
    let unique = base;
    for (let n = 2; taken.has(unique); n++) unique = `${base}_${n}`;
    taken.add(unique);
    return unique;
  };
}

/**
 * Identifier code number n of a value change dump: as few characters as will do, out of the 94 from "!" to "~"
 * (IEEE 1364-2005, 18.2.1).
 */
export function identifierCode(n: number): string {
  let code = "";
  for (let rest = n; rest >= 0; rest = Math.floor(rest / 94) - 1) code = String.fromCharCode(33 + (rest % 94)) + code;
  return code;
}
