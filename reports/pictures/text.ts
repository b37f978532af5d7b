/**
 * How wide text will be. Pictures are laid out without a browser, so this errs on the wide side: for each character the
 * wider of two common sans-serif faces.
 */

/** Printable ASCII from the space on, in hundredths of the font size. */
const ASCII = [
  32, 41, 46, 84, 64, 96, 78, 28, 40, 40, 50, 84, 32, 37, 32, 34, 64, 64, 64, 64, 64, 64, 64, 64, 64, 64, 34, 34, 84, 84, 84, 56,
  102, 69, 69, 73, 78, 67, 62, 78, 76, 30, 50, 67, 56, 87, 75, 79, 67, 79, 73, 67, 62, 74, 69, 99, 69, 67, 69, 40, 34, 40, 84, 56,
  50, 62, 64, 55, 64, 62, 36, 64, 64, 28, 28, 58, 28, 98, 64, 62, 64, 64, 42, 53, 40, 64, 60, 82, 60, 60, 53, 64, 34, 64, 84,
];

/** Widths by kind of character, where they are known well enough; in hundredths of the font size. */
const KINDS: readonly (readonly [RegExp, number])[] = [
  [/^[\p{M}\p{Cf}]/u, 0],
  [/^[\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}]/u, 112],
  [/^\p{Script=Hebrew}/u, 76],
  [/^\p{Script=Arabic}/u, 95],
  [/^[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}\u3000-\u303f\uff01-\uff60]/u, 105],
  [/^[\u00a0-\u00ff\u2010-\u2027\u20ac]/u, 107],
];
/** Letters, digits and signs of {@link ASCII}. */
const PLAIN = /^[ -~]*$/;
/** Characters of which each is a sign by itself, whatever stands beside it among these. */
const SINGLE = /^[ -~\u00a0-\u00ac\u00ae-\u00ff\u2010-\u2027\u20ac]*$/;
/** Any other sign, an emoji for instance. */
const UNKNOWN = 140;
const BOLD = 1.09;
/** More marks than this on one letter would climb into the next line. */
const MARKS = 4;

const graphemes = new Intl.Segmenter("en", { granularity: "grapheme" });

/**
 * Text that XML and every font can take: what cannot be printed, and signs that would turn the text behind them the
 * other way, become the replacement character.
 */
export function printable(text: string): string {
  return text.replace(/[\p{Cc}\p{Cs}\ufffe\uffff\u202a-\u202e\u2066-\u2069]/gu, "\ufffd");
}

/** The signs that a reader takes for one each, with no more marks than fit on a line. */
function signs(text: string): string[] {
  // The segmenter takes a hundred times as long to say so
  if (SINGLE.test(text)) return text.split("");
  return Array.from(graphemes.segment(text), ({ segment }) => {
    const marks = segment.match(/\p{M}/gu)?.length ?? 0;
    return marks <= MARKS ? segment : Array.from(segment).slice(0, 1 + MARKS).join("");
  });
}

/** Width of one sign in hundredths of the font size. */
function widthOf(sign: string): number {
  const base = sign.normalize("NFD").charCodeAt(0);
  const ascii = ASCII[base - 32];
  if (ascii !== undefined) return ascii;
  return KINDS.find(([kind]) => kind.test(sign))?.[1] ?? UNKNOWN;
}

/** Greatest width of a text in pixels. */
export function textWidth(text: string, size: number, bold = false): number {
  let hundredths = 0;
  if (PLAIN.test(text)) for (let i = 0; i < text.length; i++) hundredths += ASCII[text.charCodeAt(i) - 32]!;
  else for (const sign of signs(text)) hundredths += widthOf(sign);
  return (hundredths / 100) * size * (bold ? BOLD : 1);
}

/** True when a text has signs whose width is anybody's guess: it must be told how wide to be. */
export function isUnpredictable(text: string): boolean {
  return !PLAIN.test(text) && signs(text).some((sign) => widthOf(sign) === UNKNOWN || /\u200d|\ufe0f/.test(sign));
}

/** The text, or as much of its beginning and end as fits. Names often differ in their last words only. */
export function fitted(text: string, room: number, size: number, bold = false): string {
  if (PLAIN.test(text) && textWidth(text, size, bold) <= room) return text;
  const all = signs(printable(text)).map((sign) => ({ sign, wide: widthOf(sign), blank: sign.trim() === "" }));
  const fits = (part: typeof all): boolean => (part.reduce((sum, { wide }) => sum + wide, 0) / 100) * size * (bold ? BOLD : 1) <= room;
  const joined = (part: typeof all): string => part.map(({ sign }) => sign).join("");
  if (fits(all)) return joined(all);
  const gap = { sign: "…", wide: widthOf("…"), blank: false };
  for (let kept = all.length - 1; kept > 0; kept--) {
    const head = Math.ceil(kept * 0.6);
    const [before, after] = [all.slice(0, head), all.slice(all.length - (kept - head))];
    while (before.at(-1)?.blank === true) before.pop();
    while (after[0]?.blank === true) after.shift();
    const shorter = [...before, gap, ...after];
    if (fits(shorter)) return joined(shorter);
  }
  return "…";
}

/** True for text that is read from right to left: its first letter decides. */
export function isRightToLeft(text: string): boolean {
  const rightToLeft = /^[^\p{L}]*[\p{Script=Hebrew}\p{Script=Arabic}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}\p{Script=Adlam}]/u;
  return rightToLeft.test(text);
}

/** The text in lines of at most this width, broken between words; a word that is longer by itself is shortened. */
export function wrapped(text: string, room: number, size: number, bold = false): string[] {
  const lines: string[] = [];
  for (const word of printable(text).split(" ")) {
    const line = lines.length === 0 ? word : `${lines.at(-1)!} ${word}`;
    if (lines.length > 0 && textWidth(line, size, bold) <= room) lines[lines.length - 1] = line;
    else lines.push(fitted(word, room, size, bold));
  }
  return lines;
}
