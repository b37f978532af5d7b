/**
 * The N for which this holds: if one case in N were of a kind, n independent draws would have shown it with 95 %. The
 * greatest share that n draws without a case leave open is 1 − 0.05^(1/n), about 3/n: J. A. Hanley and A. Lippman-Hand,
 * "If nothing goes wrong, is everything all right?", JAMA 249 (1983) 1743-1745, from memory. Null for no draws.
 */
export function oneIn(draws: number): number | null {
  return draws < 1 ? null : Math.floor(1 / (1 - 0.05 ** (1 / draws)));
}
