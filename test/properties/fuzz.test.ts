import { expect, test } from "vitest";
import { disagreements } from "../fuzz/agreement.js";
import { caseOf } from "../fuzz/cases.js";
import { faultsOf, run } from "../fuzz/verdict.js";
import { often } from "../thorough.js";

/* A few of what `npm run fuzz` draws by the thousand. */
test.each(["gull", "rope", "tide"])("whatever is typed, nothing breaks, and what should agree does: cases of seed %s", async (seed) => {
  let [structured, simulated] = [0, 0];
  for (let n = 0; n < often(14, 25); n++) {
    const one = caseOf(seed, n);
    const ran = await run(one);
    const faults = [...faultsOf(one, ran), ...(await disagreements(one, ran))];
    expect(faults, `case ${n}: lampdrift ${one.args.join(" ")}\n${JSON.stringify(one.files)}`).toEqual([]);
    if (!one.structured) continue;
    structured++;
    if (ran.status < 2) simulated++;
  }
  expect(simulated).toBeGreaterThan(structured / 2);
});
