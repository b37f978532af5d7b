/** What whoever builds or looks after a display should keep in mind. Stands on every report and every card. */
export const CAUTIONS: readonly string[] = [
  "Mains: use only a ready-made, approved, fused and current-limited supply of safety extra-low voltage, and plug it in outside the " +
    "display. No mains wiring, and nothing that plugs into the mains, belongs inside the display.",
  "Heat: lamps, drivers and regulators get warm and need air. Touch-test after an hour with everything on; what is too hot to keep a " +
    "finger on is too hot for timber and card.",
  "Wires: every wire must carry, without getting warm, the most that the supply can deliver into a short circuit, or have a fuse of " +
    "its own that blows before it does. Size wire and fuse by the supply's limit, not by the lamps.",
  "Switch the supply off before a wire, a chip or a lamp is touched.",
  "The figures here are computed. Local codes and the rules of the house decide, and anything on the mains side is work for a licensed " +
    "electrician.",
];
