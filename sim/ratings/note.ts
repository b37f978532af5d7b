/** Something that a builder should know and that has no limit to be rated against. */
export interface Note {
  /** Board id, or "supply"; several boards as "quay, hill and mill". */
  readonly where: string;
  readonly text: string;
}
