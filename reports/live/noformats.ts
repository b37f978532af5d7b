/**
 * Stands for d3-format in the script of the page: numbers there are written by `sim/units`, and scales are never asked how
 * they would write theirs.
 */
const none = (): never => {
  throw new Error("the page lets no scale write numbers");
};
export {
  none as format,
  none as formatPrefix,
  none as formatSpecifier,
  none as precisionFixed,
  none as precisionPrefix,
  none as precisionRound,
};
