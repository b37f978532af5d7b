/** What is asked of somebody who typed a bare number for a time, where seconds and minutes are as likely; null for anything else. */
export function askUnit(text: string): string | null {
  const number = /^\s*(\d+(?:[.,]\d+)?)\s*$/.exec(text)?.[1];
  return number === undefined ? null : `minutes or seconds? Write "${number} min" or "${number} s"`;
}
