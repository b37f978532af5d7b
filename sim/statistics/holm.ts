/**
 * Chances of single comparisons made good for asking many questions at once: that any of those below 0.05 then is false
 * happens in 5 % of cases at most, however the questions hang together (S. Holm, A simple sequentially rejective multiple
 * test procedure, Scand. J. Statist. 6 (1979) 65-70, from memory). Each in its old place.
 */
export function holm(chances: readonly number[]): number[] {
  const order = chances.map((_, i) => i).sort((a, b) => chances[a]! - chances[b]!);
  const adjusted = new Array<number>(chances.length);
  let most = 0;
  for (const [rank, i] of order.entries()) {
    most = Math.max(most, Math.min(1, (chances.length - rank) * chances[i]!));
    adjusted[i] = most;
  }
  return adjusted;
}
