import { createHash } from "node:crypto";

/**
 * Eight digits that tell one version of a scenario file from another: the beginning of the SHA-256 digest of its text
 * (as `sha256sum FILE` prints it), for a variant of all the texts that it is made from, one after the other.
 */
export function digestOf(texts: readonly string[]): string {
  const hash = createHash("sha256");
  for (const text of texts) hash.update(text);
  return hash.digest("hex").slice(0, 8);
}
