import { scaledQuantity, unitsWith } from "./scaled.js";

/** Length in metre. Printed in millimetres below a metre, as models are measured. */
export const metres = scaledQuantity({
  name: "length",
  accepted: 'a length such as "2 mm", "1.5 cm" or a number of metres',
  signed: false,
  units: new Map([...unitsWith("uµμm", ["m"]), ["", 0], ["cm", -2]]),
  ladder: [
    { from: 1, unit: "m", power: 0 },
    { from: 0, unit: "mm", power: -3 },
  ],
});
