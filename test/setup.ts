/** Before and after all test files: a directory for what several of them look at. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

export async function setup(): Promise<() => Promise<void>> {
  const shared = await mkdtemp(join(tmpdir(), "lampdrift-pages-"));
  process.env["LAMPDRIFT_SHARED_PAGES"] = shared;
  return () => rm(shared, { recursive: true, force: true });
}
