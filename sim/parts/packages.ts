import type { Board } from "../model/scenario.js";
import { DRIVERS } from "./drivers.js";

/** The counter outputs that share one driver package; place k in the list is channel k + 1. */
export type DriverPackage = readonly number[];

const known = new WeakMap<Board["outputs"], Map<Board["driver"], readonly DriverPackage[]>>();

/**
 * The driver packages of a board: outputs with something connected, in order, shared evenly over as few packages as
 * they need (ten outputs on eight-channel packages: five and five, which also shares the heat).
 */
export function driverPackages({ driver, outputs }: Pick<Board, "driver" | "outputs">): readonly DriverPackage[] {
  const byDriver = known.get(outputs) ?? new Map<Board["driver"], readonly DriverPackage[]>();
  known.set(outputs, byDriver);
  const packages = byDriver.get(driver) ?? shared(driver, outputs);
  byDriver.set(driver, packages);
  return packages;
}

function shared(driver: Board["driver"], outputs: Board["outputs"]): DriverPackage[] {
  const connected = outputs.flatMap((loads, output) => (loads.length > 0 ? [output] : []));
  const count = Math.ceil(connected.length / DRIVERS[driver.kind].channelsInPackage);
  return Array.from({ length: count }, (_, p) =>
    connected.slice(Math.ceil((p * connected.length) / count), Math.ceil(((p + 1) * connected.length) / count)),
  );
}
