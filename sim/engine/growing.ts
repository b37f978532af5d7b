/** A list of numbers in a typed array that doubles when it is full. */
export class Growing<T extends Float64Array | Int32Array> {
  length = 0;

  /** `array`: what is written over, and given up where it is too short. */
  constructor(
    private readonly make: (length: number) => T,
    private array: T,
  ) {}

  push(value: number): void {
    if (this.length === this.array.length) this.room(1);
    this.array[this.length++] = value;
  }

  /** The array with room for so many values behind the last; who puts some there says so by `length`. */
  room(values: number): T {
    if (this.length + values > this.array.length) {
      const larger = this.make(2 * this.length + values);
      larger.set(this.array);
      this.array = larger;
    }
    return this.array;
  }

  /** The values so far, without copying. */
  values(): T {
    return this.array.subarray(0, this.length) as T;
  }
}

const doubles = (length: number): Float64Array => new Float64Array(length);
const ints = (length: number): Int32Array => new Int32Array(length);

/** `expected`: how many values are likely to come, so that the array need not grow; `over`: values that are written over instead. */
export function growingDoubles(expected: number, over?: Float64Array): Growing<Float64Array> {
  return new Growing(doubles, over === undefined ? doubles(expected + 16) : new Float64Array(over.buffer));
}

export function growingInts(expected: number, over?: Int32Array): Growing<Int32Array> {
  return new Growing(ints, over === undefined ? ints(expected + 16) : new Int32Array(over.buffer));
}
