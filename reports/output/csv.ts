/** A value of a table: numbers in full precision, text as it is, null for nothing. */
export type CsvValue = string | number | null;

/** One row of comma-separated values as RFC 4180 has it, with its line end. */
export function csvRow(values: readonly CsvValue[]): string {
  return `${values.map(cell).join(",")}\r\n`;
}

/** A table of comma-separated values, heading first. */
export function csv(head: readonly string[], rows: readonly (readonly CsvValue[])[]): string {
  return [head, ...rows].map(csvRow).join("");
}

function cell(value: CsvValue): string {
  if (value === null) return "";
  if (typeof value === "number") return String(value);
  // characters that turn the direction of writing could make a cell read as something else
  const plain = value.replace(/[\u200e\u200f\u061c\u202a-\u202e\u2066-\u2069]/g, "");
  // a spreadsheet would take text that begins like this, full width too, for a formula, and run it
  const text = /^[=+\-@\t\r＝＋－＠]/.test(plain) ? `'${plain}` : plain;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
