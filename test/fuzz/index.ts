/** `npm run fuzz -- --cases 10000 --seed text`: draws input of every sort and says what breaks. Exit status 1 when something does. */
import { caseOf } from "./cases.js";
import { faultsOf, run } from "./verdict.js";

const option = (name: string, otherwise: string): string => {
  const at = process.argv.indexOf(`--${name}`);
  return at < 0 ? otherwise : (process.argv[at + 1] ?? otherwise);
};
const cases = Number(option("cases", "1000"));
const seed = option("seed", "harbour");
const ended = [0, 0, 0, 0];
let broken = 0;
for (let n = 0; n < cases; n++) {
  const one = caseOf(seed, n);
  const ran = await run(one);
  ended[ran.status] = (ended[ran.status] ?? 0) + 1;
  const faults = faultsOf(one, ran);
  if (faults.length === 0) continue;
  broken++;
  console.log(`case ${n} of seed ${seed}: ${faults.join("; ")}\n  lampdrift ${one.args.map((arg) => JSON.stringify(arg)).join(" ")}`);
  for (const [name, text] of Object.entries(one.files)) console.log(`  ${name}: ${JSON.stringify(text)}`);
  console.log(`  ${ran.stderr.slice(0, 500)}`);
}
console.log(`${cases} cases: ${ended[0]} done, ${ended[1]} with a broken promise or rating, ${ended[2]} refused; ${broken} broken`);
process.exitCode = broken === 0 ? 0 : 1;
