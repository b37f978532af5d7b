/** Text from a file without characters that could steer a terminal. */
export function visible(text: string): string {
  return text.replace(/[\p{Cc}\p{Cf}]/gu, "");
}

/** As {@link visible}, for text of several lines. */
export function visibleLines(text: string): string {
  return text.split("\n").map(visible).join("\n");
}
