/**
 * Something that a file or an argument causes and its author can mend. The message says where it is, what was found and
 * what would do; it is all that a user needs to see.
 */
export class InputError extends Error {
  override readonly name: string = "InputError";
}
