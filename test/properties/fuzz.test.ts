import { expect, test } from "vitest";
import { caseOf } from "../fuzz/cases.js";
import { faultsOf, run } from "../fuzz/verdict.js";

/* A few of what `npm run fuzz` draws by the thousand. */
test.each(["gull", "rope", "tide"])("whatever is typed, nothing breaks: forty cases of seed %s", async (seed) => {
  let computed = 0;
  for (let n = 0; n < 40; n++) {
    const one = caseOf(seed, n);
    const ran = await run(one);
    expect(faultsOf(one, ran), `case ${n}: lampdrift ${one.args.join(" ")}\n${JSON.stringify(one.files)}`).toEqual([]);
    if (ran.status < 2) computed++;
  }
  expect(computed).toBeGreaterThan(10);
});
