/** Why a file could not be read, in words. */
export function whyUnreadable(error: unknown): string {
  const { code } = error as NodeJS.ErrnoException;
  if (code === "ENOENT") return "there is no such file";
  if (code === "EACCES" || code === "EPERM") return "no permission to read this file";
  return `cannot be read (${code ?? "unknown reason"})`;
}
