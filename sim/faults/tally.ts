import type { Light, Turns } from "./light.js";

/** What a display may show with faults that look alike: one way, or several of which nobody knows which it is. */
export type Suspect = readonly Light[];

/** Lights of suspects that show the same of some houses. */
interface Alike {
  /** One of them, which stands for all. */
  readonly light: Light;
  /**
   * How likely it is that the display is one of them, times the number of suspects: each suspect and each of its ways
   * is as likely as any other.
   */
  readonly weight: number;
  /** How many suspects have all their lights here. */
  readonly whole: number;
  /** Suspects that have some of their lights here and some elsewhere, by index. */
  readonly part: readonly number[];
}

/** The lights of the suspects, put together by what they show of these houses. */
export function alikeIn(suspects: readonly Suspect[], houses: readonly number[]): Alike[] {
  const numbers = new Map<Turns, number>();
  const classes = new Map<string, { light: Light; weight: number; counts: Map<number, number> }>();
  for (const [s, lights] of suspects.entries()) {
    for (const light of lights) {
      const key = houses.map((house) => numberOf(numbers, light.turnsOf(house))).join();
      const one = classes.get(key) ?? { light, weight: 0, counts: new Map<number, number>() };
      one.weight += 1 / lights.length;
      one.counts.set(s, (one.counts.get(s) ?? 0) + 1);
      classes.set(key, one);
    }
  }
  return Array.from(classes.values(), ({ light, weight, counts }) => {
    const part = [...counts].flatMap(([s, count]) => (count < suspects[s]!.length ? [s] : []));
    return { light, weight, whole: counts.size - part.length, part };
  });
}

function numberOf(numbers: Map<Turns, number>, turns: Turns): number {
  const known = numbers.get(turns) ?? numbers.size;
  numbers.set(turns, known);
  return known;
}

interface Cell {
  weight: number;
  whole: number;
  readonly part: Map<number, number>;
}

/** What a look may answer, and how many suspects each answer leaves. */
export class Tally<Answer> {
  private readonly cells = new Map<Answer, Cell>();
  /** Suspects that are left on average, times the number of suspects. */
  private total = 0;

  /** Rounding aside, which must not let two looks that are as good differ. */
  get leaves(): number {
    return Math.round(this.total * 1e6) / 1e6;
  }

  add(answer: Answer, one: Alike): void {
    this.change(answer, one, 1);
  }

  remove(answer: Answer, one: Alike): void {
    this.change(answer, one, -1);
  }

  private change(answer: Answer, { weight, whole, part }: Alike, sign: 1 | -1): void {
    const cell = this.cells.get(answer) ?? { weight: 0, whole: 0, part: new Map<number, number>() };
    this.cells.set(answer, cell);
    this.total -= cell.weight * (cell.whole + cell.part.size);
    cell.weight += sign * weight;
    cell.whole += sign * whole;
    for (const suspect of part) {
      const count = (cell.part.get(suspect) ?? 0) + sign;
      if (count === 0) cell.part.delete(suspect);
      else cell.part.set(suspect, count);
    }
    this.total += cell.weight * (cell.whole + cell.part.size);
  }
}
