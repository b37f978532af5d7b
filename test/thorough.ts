/** Whether tests take all the time that they can use: `LAMPDRIFT_THOROUGH=1 npm test`, for nights and before releases. */
export const thorough = process.env["LAMPDRIFT_THOROUGH"] !== undefined;

/** How often to try what costs much: usually, and when there is all the time in the world. */
export function often(usual: number, atLength: number): number {
  return thorough ? atLength : usual;
}
