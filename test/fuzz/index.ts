/**
 * `npm run fuzz -- --cases 10000 --seed text` (`--first 5000` goes on): draws input of every sort and says what breaks; `--kills 200`: ends commands
 * that write, and a program that does nothing else, at as many moments each. Exit status 1 when something breaks.
 */
import { caseOf } from "./cases.js";
import { disagreements } from "./agreement.js";
import { endCommands } from "./ends.js";
import { killWriting } from "./kills.js";
import { faultsOf, run } from "./verdict.js";

const option = (name: string, otherwise: string): string => {
  const at = process.argv.indexOf(`--${name}`);
  return at < 0 ? otherwise : (process.argv[at + 1] ?? otherwise);
};
const kills = Number(option("kills", "0"));
const cases = Number(option("cases", kills > 0 ? "0" : "1000"));
const seed = option("seed", "harbour");
const first = Number(option("first", "0"));

async function tryCases(): Promise<number> {
  const ended = [0, 0, 0, 0];
  let [broken, structured, simulated] = [0, 0, 0];
  for (let n = first; n < first + cases; n++) {
    const one = caseOf(seed, n);
    const ran = await run(one);
    ended[ran.status] = (ended[ran.status] ?? 0) + 1;
    const faults = [...faultsOf(one, ran), ...(await disagreements(one, ran))];
    if (one.structured) {
      structured++;
      if (ran.status < 2) simulated++;
    }
    if (faults.length === 0) continue;
    broken++;
    console.log(`case ${n} of seed ${seed}: ${faults.join("; ")}\n  lampdrift ${one.args.map((arg) => JSON.stringify(arg)).join(" ")}`);
    for (const [name, text] of Object.entries(one.files)) console.log(`  ${name}: ${JSON.stringify(text)}`);
    console.log(`  ${ran.stderr.slice(0, 500)}`);
  }
  console.log(`${cases} cases: ${ended[0]} done, ${ended[1]} with a broken promise or rating, ${ended[2]} refused; ` +
    `of ${structured} scenarios ${simulated} were simulated; ${broken} broken`);
  return broken;
}

async function tryKills(): Promise<number> {
  const commands = await endCommands(kills, seed, undefined, (line) => console.log(line));
  console.log(`${kills} commands ended: ${commands.old} left what was there, ${commands.done} what they make, ${commands.amid} something ` +
    `amid that the next run finishes; ${commands.faults.length} faults`);
  const writing = await killWriting(kills, seed);
  for (const fault of writing.faults) console.log(fault);
  console.log(`${kills} ends of a program that writes all the time: ${writing.amid} amid; ${writing.faults.length} faults`);
  return commands.faults.length + writing.faults.length;
}

const broken = (cases > 0 ? await tryCases() : 0) + (kills > 0 ? await tryKills() : 0);
process.exitCode = broken === 0 ? 0 : 1;
