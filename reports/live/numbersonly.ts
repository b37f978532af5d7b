/**
 * Stands for d3-interpolate in the script of the page: scales there lead from numbers to numbers, and whatever else it
 * could mix (texts, dates, lists, views) would be a fiftieth of the script. As exact at both ends as its own.
 */
export const interpolateNumber = (a: number, b: number): ((share: number) => number) => (share) => a * (1 - share) + b * share;

const none = (): never => {
  throw new Error("the page mixes numbers alone");
};
export { interpolateNumber as interpolate, none as interpolateRound, none as piecewise };
