/** The one generator of seedrandom that is used, without the others. */
declare module "seedrandom/lib/alea.js" {
  import type { PRNG } from "seedrandom";

  export default function alea(seed: string, options: { state: true }): PRNG & { state: () => object };
}
