/** A scenario whose scene changes a hundred times a second, for exports of many spells. */
export function chaser(title: string, opening: string): string {
  return `lampdrift: 1
title: ${title}
opening: ${opening}
houses: { a: , b: , c: , d: }
boards:
  quick:
    timer: { kind: quartz, step: 10 ms }
    counter: { kind: ring, steps: 4 }
    outputs: { 0: a, 1: b, 2: c, 3: d }
`;
}
