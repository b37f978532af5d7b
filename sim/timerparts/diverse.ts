import type { Choice } from "./choice.js";
import { make } from "./search.js";

const MOST = 8;
/** Of one make no more than this, unless there is little else. */
const MOST_OF_A_MAKE = 3;
const ENOUGH = 5;

/**
 * The best few of different make: the best of every make first, then others that differ from those of their make in
 * capacitor and trimmer both; only where that gives fewer than five, such as differ in one of them, or in divider. Best first.
 */
export function diverse(choices: readonly Choice[]): Choice[] {
  const ranked = [...choices].sort((a, b) => b.score - a.score);
  const chosen: Choice[] = [];
  const take = (most: number, differs: (a: Choice, b: Choice) => boolean, ofAMake: number): void => {
    for (const choice of ranked) {
      if (chosen.length >= most) return;
      if (chosen.some((other) => sameValues(other, choice))) continue;
      const alike = chosen.filter((other) => sameMake(other, choice));
      if (alike.length < ofAMake && alike.every((other) => differs(other, choice))) chosen.push(choice);
    }
  };
  take(MOST, () => false, 1);
  take(MOST, (a, b) => a.c !== b.c && a.trimmer.value !== b.trimmer.value, MOST_OF_A_MAKE);
  take(ENOUGH, () => true, ENOUGH);
  return chosen.sort((a, b) => b.score - a.score);
}

function sameMake(a: Choice, b: Choice): boolean {
  return make(a.capacitor.type, a.divide) === make(b.capacitor.type, b.divide);
}

function sameValues(a: Choice, b: Choice): boolean {
  return a.c === b.c && a.trimmer.value === b.trimmer.value && a.divide === b.divide;
}
