/** A display of so many ring boards, each of which lights so many houses, one a step. */
export function largeDisplay(boards: number, houses: number): string {
  const all = Array.from({ length: boards }, (_, b) => Array.from({ length: houses }, (__, i) => `h${b * houses + i}`));
  return [
    "lampdrift: 1",
    "title: Large display",
    'opening: { from: "10:00", until: "17:00", run: 5 }',
    "lamps: { window: { amps: 10 mA } }",
    "houses:",
    ...all.flat().map((house) => `  ${house}:`),
    "boards:",
    ...all.flatMap((own, b) => [
      `  b${b}:`,
      `    timer: { kind: astable, ra: 10 kΩ 1 %, rb: 470 kΩ 5 %, c: 100 µF 20 %, trimmer: { value: 1 MΩ 20 %, in: rb }, dial: ${30 + (b % 10)} % }`,
      `    counter: { kind: ring, steps: ${houses} }`,
      `    outputs: { ${own.map((house, i) => `${i}: ${house}`).join(", ")} }`,
    ]),
    "",
  ].join("\n");
}
