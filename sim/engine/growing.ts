/** A list of numbers in a typed array that doubles when it is full. */
export class Growing<T extends Float64Array | Int32Array> {
  length = 0;
  private array: T;

  /** `expected`: how many values are likely to come, so that the array need not grow. */
  constructor(
    private readonly make: (length: number) => T,
    expected: number,
  ) {
    this.array = make(expected + 16);
  }

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

export const growingDoubles = (expected: number): Growing<Float64Array> =>
  new Growing((length) => new Float64Array(length), expected);
export const growingInts = (expected: number): Growing<Int32Array> =>
  new Growing((length) => new Int32Array(length), expected);
