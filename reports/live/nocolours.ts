/**
 * Stands for d3-color in the script of the page: scales there lead from numbers to numbers, and colours, which
 * d3-interpolate could also mix, would be a fortieth of the script. No text is a colour here.
 */
export const color = (): null => null;

const none = (): never => {
  throw new Error("the page mixes no colours");
};
export { none as cubehelix, none as hcl, none as hsl, none as lab, none as rgb };
