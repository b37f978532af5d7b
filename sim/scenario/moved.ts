import { isMap, isScalar, isSeq, parseDocument, type Pair, type Scalar } from "yaml";
import { InputError } from "../errors.js";
import { applied, columnOf, pairAt, spanOf, type Edit } from "./edits.js";

const WHY = "its place can be set by itself";

/**
 * The text of a scenario file with a house in another place of the picture (`at`), byte for byte the same elsewhere; in a
 * variant that does not name the house, it is added. Throws {@link InputError} where the text shares the house's keys
 * with others, since they would move too.
 */
export function withHouseAt(text: string, file: string, house: string, at: readonly [number, number]): string {
  const document = parseDocument(text);
  const pair = pairAt(document, ["houses", house], file, WHY);
  const expected = parseDocument(text);
  if (pair === null || document.errors.length > 0) {
    expected.setIn(["houses", house, "at"], expected.createNode(at, { flow: true }));
    return expected.toString({ lineWidth: 0 });
  }
  const place = pairAt(document, ["houses", house, "at"], file, WHY);
  const edited = applied(text, place === null ? [added(pair, text, at, file)] : replaced(place, at, file));
  const data = document.toJS() as Data;
  const was = data.houses[house];
  // keys in the order in which they stand after the edit
  const wanted = { ...data, houses: { ...data.houses, [house]: place === null ? { at, ...was } : { ...was, at } } };
  if (JSON.stringify(parseDocument(edited).toJS()) === JSON.stringify(wanted)) return edited;
  throw new InputError(`${file}: houses.${house} shares its keys with others here; write them out, so that ${WHY}`);
}

interface Data {
  readonly houses: Readonly<Record<string, object | null>>;
}

function replaced({ value }: Pair, at: readonly [number, number], file: string): Edit[] {
  if (!isSeq(value) || value.items.length !== 2 || !value.items.every(isScalar)) {
    throw new InputError(`${file}: a place must be two numbers, such as [40, 120], to be moved`);
  }
  return (value.items).map((item, i) => ({ ...spanOf(item), text: String(at[i]) }));
}

function added({ key, value }: Pair, text: string, at: readonly [number, number], file: string): Edit {
  const written = `at: [${at.join(", ")}]`;
  if (value === null || (isScalar(value) && value.value === null)) {
    const { end } = spanOf(key as Scalar);
    const after = text.indexOf(":", end) + 1;
    const null_ = isScalar(value) && value.source !== "" ? spanOf(value) : { start: after, end: after };
    return { ...null_, text: `${null_.start === after ? " " : ""}{ ${written} }` };
  }
  if (!isMap(value)) throw new InputError(`${file}: expected a mapping with name, zone, at`);
  const [first] = value.items;
  if (first === undefined) return { start: value.range![0], end: value.range![1], text: `{ ${written} }` };
  const { start } = spanOf(first.key as Scalar);
  return { start, end: start, text: written + (value.flow === true ? ", " : `\n${" ".repeat(columnOf(text, start))}`) };
}
